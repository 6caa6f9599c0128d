import type { InhabitedStage } from '../../rules/log/common.js';

/** Where the animals of a batch were from so many days ago on, how many, and as what. */
export type Stop = {
  readonly day: number;
  readonly tank: string;
  readonly stage: InhabitedStage;
  readonly animals: number;
};
export type Life = {
  readonly batch: string;
  readonly parents: string;
  /** The first is the eggs. */
  readonly stops: readonly Stop[];
  /** The day on which it was lost. */
  readonly lostDay?: number;
};

const stop = (day: number, tank: string, stage: InhabitedStage, animals: number): Stop => ({
  day,
  tank,
  stage,
  animals,
});

/** The batches of the invented season, letters in the order of their spawning runs. */
export const LIVES: readonly Life[] = [
  {
    batch: 'C-1',
    parents: 'P-1',
    stops: [
      stop(75, 'l1', 'embryo', 12_400_000),
      stop(74, 'l4', 'larva', 9_100_000),
      stop(58, 's4', 'setting', 1_240_000),
      stop(45, 's4', 'post-set', 640_000),
      stop(21, 's4', 'nursery', 410_000),
    ],
  },
  {
    batch: 'C-4',
    parents: 'P-2',
    stops: [
      stop(73, 'l1', 'embryo', 9_800_000),
      stop(72, 'l5', 'larva', 7_300_000),
      stop(56, 'u1', 'setting', 980_000),
      stop(44, 'u1', 'post-set', 520_000),
      stop(21, 'u1', 'nursery', 360_000),
    ],
  },
  {
    batch: 'D-1',
    parents: 'P-3',
    stops: [
      stop(44, 'l1', 'embryo', 11_200_000),
      stop(43, 'l2', 'larva', 8_400_000),
      stop(25, 's2', 'setting', 1_050_000),
      stop(16, 's2', 'post-set', 610_000),
    ],
  },
  {
    batch: 'D-2',
    parents: 'P-3',
    stops: [
      stop(42, 'l1', 'embryo', 10_600_000),
      stop(41, 'l3', 'larva', 7_900_000),
      stop(24, 's3', 'setting', 990_000),
      stop(16, 's3', 'post-set', 580_000),
    ],
  },
  {
    batch: 'E-1',
    parents: 'P-4',
    stops: [stop(20, 'l1', 'embryo', 3_100_000), stop(19, 'l2', 'larva', 2_300_000)],
    lostDay: 6,
  },
  {
    batch: 'E-2',
    parents: 'P-4',
    stops: [
      stop(18, 'l1', 'embryo', 8_900_000),
      stop(17, 'l4', 'larva', 6_600_000),
      stop(4, 's1', 'larva', 1_480_000),
      stop(2, 's1', 'setting', 1_390_000),
    ],
  },
  { batch: 'F-1', parents: 'P-5', stops: [stop(13, 'l1', 'embryo', 9_400_000), stop(12, 'l5', 'larva', 7_200_000)] },
  { batch: 'F-4', parents: 'P-5', stops: [stop(10, 'l1', 'embryo', 8_700_000), stop(9, 'l3', 'larva', 6_500_000)] },
  { batch: 'G-1', parents: 'P-4', stops: [stop(6, 'l1', 'embryo', 2_900_000), stop(5, 'l2', 'larva', 2_200_000)] },
  { batch: 'G-3', parents: 'P-4', stops: [stop(4, 'l1', 'embryo', 8_100_000), stop(3, 'l4', 'larva', 6_300_000)] },
  { batch: 'H-2', parents: 'P-4', stops: [stop(1, 'l1', 'embryo', 7_600_000)] },
];

/** Lost of what is there, in a day; most of it in the first days. Invented. */
const LOSS: { readonly [stage in InhabitedStage]?: number } = { larva: 0.09, setting: 0.02, 'post-set': 0.006 };

export type Occupant = { readonly life: Life; readonly stop: Stop; readonly animals: number; readonly ageDays: number };

/** Who was in a tank in the middle of a day, and about how many were left of them. */
export const occupant = (tank: string, day: number): Occupant | undefined => {
  for (const life of LIVES) {
    const n = life.stops.findLastIndex((one) => one.day > day);
    const here = life.stops[n];
    if (here === undefined || here.tank !== tank || (life.lostDay ?? -1) >= day) continue;
    const animals = here.animals * (1 - (LOSS[here.stage] ?? 0)) ** (here.day - day);
    return { life, stop: here, animals, ageDays: (life.stops[0]?.day ?? day) - day };
  }
  return undefined;
};

/** Whether animals came into or left the tank on that day: then its ordinary work is left to them. */
export const isMovingDay = (tank: string, day: number): boolean =>
  LIVES.some(
    ({ stops, lostDay }) =>
      stops.some((one, n) => one.day === day && (one.tank === tank || stops[n - 1]?.tank === tank)) ||
      (lostDay === day && stops.at(-1)?.tank === tank),
  );
