import { profileFor, SPECIES_GROUPS, type SpeciesGroupId } from '../../rules/stage/profiles.js';
import type { Stage } from '../../rules/stage/stage.js';
import type { Random } from '../random.js';
import type { Animals, Bed, Tank, Thermostat } from '../tank.js';
import { tank } from '../world/build.js';

/** What the year and the house give: the water outside, the rooms, and who is bred. */
export type House = {
  readonly breeds: SpeciesGroupId;
  readonly seeds: SpeciesGroupId;
  readonly seaC: number;
  readonly seaSalinity: number;
  /** Mean of the air outside at this time of the year. */
  readonly airC: number;
  readonly larvalRoomC: number;
  readonly broodRoomC: number;
  readonly heaterCircuit: string;
  readonly hasRun: boolean;
};

/** Weeks in which the raw water itself lies at the edge of what the seed is kept in, and swings over it with the tide. */
const ROUGH_SEASON_SHARE = 0.06;

const seaOf = (group: SpeciesGroupId, random: Random): number => {
  const { target, limit } = profileFor(group, 'nursery')?.temperatureC ?? {};
  const isRough = random.chance(ROUGH_SEASON_SHARE);
  if (isRough && limit?.high !== undefined) return limit.high - random.uniform(0.1, 0.8);
  return random.uniform((target?.low ?? 10) + 1, (target?.high ?? 18) - 1.5);
};

/** Heaters and chillers are bought in such sizes, kW. */
const SIZES_KW = [0.1, 0.2, 0.3, 0.5, 0.75, 1, 1.5, 2, 3, 4.5, 6, 9, 12];
const KJ_PER_L_K = 4.1;

/** What a tank is to be kept at: somewhere in the inner part of what the books give as target. */
export const wantedC = (group: SpeciesGroupId, stage: Stage, random: Random): number => {
  const { low = 15, high = 20 } = profileFor(group, stage)?.temperatureC.target ?? {};
  return low + (high - low) * random.uniform(0.2, 0.8);
};

export const wantedSalinity = (group: SpeciesGroupId, stage: Stage): number => {
  const { low = 28, high = 32 } = profileFor(group, stage)?.salinity.target ?? {};
  return (low + high) / 2;
};

export const drawHouse = (random: Random): House => {
  const groups = SPECIES_GROUPS.map(({ id }) => id);
  const breeds = random.pick(groups);
  const seeds = random.chance(0.7) ? breeds : random.pick(groups);
  const isSummer = random.chance(0.25);
  const seaC = seaOf(seeds, random.fork('sea'));
  const larvaC = wantedC(breeds, 'larva', random);
  return {
    breeds,
    seeds,
    seaC,
    airC: seaC + random.fork('air').uniform(-6, 5),
    seaSalinity: wantedSalinity(seeds, 'nursery') + random.uniform(-1, 1),
    larvalRoomC: larvaC + (isSummer ? random.uniform(0, 4) : random.uniform(-5, -1)),
    broodRoomC: wantedC(breeds, 'conditioning', random) + (isSummer ? random.uniform(1, 6) : random.uniform(-6, 0)),
    heaterCircuit: random.pick(['mains-a', 'mains-b']),
    hasRun: random.chance(0.05),
  };
};

/**
 * The next size that is bought: enough for the losses, and for new water within the working day, at 0.6 to 3 °C an hour
 * (common practice). A house sometimes uses the heater of a bigger tank.
 */
const sized = (neededKw: number, volumeL: number, random: Random): number => {
  const warmingKw = (volumeL * KJ_PER_L_K * random.uniform(0.6, 3)) / 3600;
  const wished = (1.3 * neededKw + warmingKw) * (random.chance(0.12) ? 3 : 1);
  return SIZES_KW.find((kw) => kw >= wished) ?? 12;
};

type Shape = Pick<Tank, 'id' | 'line' | 'room' | 'airMain' | 'stage' | 'volumeL' | 'depthM'> & Partial<Tank>;

/** The coldest and the warmest that it gets around a tank at this time of the year. */
type Around = { readonly coldC: number; readonly warmC: number; readonly inflowC: number; readonly circuit: string };

/** A heated room follows the air outside on warmer days; an open shed always does. */
const roomOf = (heatedToC: number | undefined, { airC }: House): Pick<Around, 'coldC' | 'warmC'> => ({
  coldC: heatedToC ?? airC - 5,
  warmC: Math.max(heatedToC ?? -Infinity, airC + 4),
});

/** The header's own heater brings raw water three quarters of the way (as supply.ts does it at full draw). */
const HEADER_REACHES = 0.75;
const headerC = (wantedHeaderC: number, { seaC }: House): number =>
  wantedHeaderC > seaC ? seaC + HEADER_REACHES * (wantedHeaderC - seaC) : seaC;

/** Chilled from so much above the set-point of the heater, so that the two do not fight. */
const CHILLED_ABOVE_C = 0.7;

/** Heater, chiller or both: enough for the losses through wall and surface and for what runs in. */
const climateOf = (
  shape: Shape,
  setC: number,
  { coldC, warmC, inflowC, circuit }: Around,
  random: Random,
): { readonly heater?: Thermostat; readonly chiller?: Thermostat } => {
  const surfaceM2 = shape.volumeL / 1000 / shape.depthM;
  const wattsPerK = 5 * (4 * Math.sqrt(surfaceM2) * shape.depthM + 0.5 * surfaceM2) + 8 * surfaceM2;
  const inflowKw = ((shape.flowLMin ?? 0) / 60) * KJ_PER_L_K * (setC - inflowC);
  const lostKw = (roomC: number): number => (wattsPerK * (setC - roomC)) / 1000 + inflowKw;
  const thermostat = (kw: number, atC: number): Thermostat => ({
    powerKw: sized(kw, shape.volumeL, random) * random.uniform(0.88, 1.04),
    setC: atC,
    bandC: random.uniform(0.2, 0.8),
    circuit,
  });
  const chilling = lostKw(warmC) < 0 ? { chiller: thermostat(-lostKw(warmC), setC + CHILLED_ABOVE_C) } : {};
  const heating = lostKw(coldC) > 0 ? { heater: thermostat(lostKw(coldC), setC) } : {};
  return { ...heating, ...chilling };
};

const larvaeOf = (volumeL: number, stage: Stage, random: Random): Animals => {
  const perMl = stage === 'embryo' ? random.uniform(10, 30) : random.uniform(1, 12);
  const eachMgH = stage === 'embryo' ? 1e-6 : random.uniform(3e-6, 2.5e-5);
  return { restMgH: volumeL * 1000 * perMl * eachMgH, feedingShare: stage === 'embryo' ? 0 : 0.5 };
};

const broodTank = (index: number, house: House, random: Random): Tank => {
  const stage = random.chance(0.3) ? 'ripe' : 'conditioning';
  const volumeL = random.pick([200, 300, 500, 800, 1200]);
  const bed: Bed = random.chance(0.4)
    ? { kind: random.pick(['sand', 'aragonite']), depthM: 0.12, uptakeMgM2H: random.uniform(12, 30) }
    : { kind: 'none' };
  const setC = wantedC(house.breeds, stage, random);
  const shape = {
    id: `b${index + 1}`,
    line: 'brood',
    room: 'brood-room',
    airMain: random.chance(0.8) ? 'air-a' : 'air-b',
    stage,
    speciesGroup: house.breeds,
    regime: 'flow-through',
    volumeL,
    depthM: random.uniform(0.35, 0.7),
    flowLMin: volumeL / 60 / random.uniform(1, 4),
    bubblesPerH: random.uniform(1, 3),
    openShare: random.uniform(0.3, 1),
    bed,
    animals: { restMgH: volumeL * random.uniform(0.08, 0.5), feedingShare: 0.6 },
  } as const;
  const around = {
    ...roomOf(house.broodRoomC, house),
    inflowC: headerC(setC - 2, house),
    circuit: house.heaterCircuit,
  };
  return tank({ ...shape, ...climateOf(shape, setC, around, random) });
};

const LARVAL_STAGES: readonly Stage[] = ['embryo', 'larva', 'larva', 'larva', 'setting'];

const larvalTank = (index: number, house: House, random: Random): Tank => {
  const isTray = house.hasRun && index === 0;
  const stage = isTray ? 'spawning' : (LARVAL_STAGES[index] ?? 'larva');
  const volumeL = isTray ? 75 : random.pick([60, 90, 150, 400, 1000, 2000, 5000]);
  const setC = wantedC(house.breeds, isTray ? 'conditioning' : stage, random);
  const shape = {
    id: `l${index + 1}`,
    line: 'larval',
    room: 'larval-room',
    airMain: random.chance(0.8) ? 'air-b' : 'air-a',
    stage,
    speciesGroup: house.breeds,
    volumeL,
    depthM: isTray ? 0.1 : Math.min(1.4, 0.35 + volumeL / 2500),
    bubblesPerH: random.uniform(0.8, 2.5),
    openShare: random.uniform(0.15, 0.7),
    animals: isTray ? { restMgH: 40, feedingShare: 0 } : larvaeOf(volumeL, stage, random),
  } as const;
  const around = { ...roomOf(house.larvalRoomC, house), inflowC: setC, circuit: house.heaterCircuit };
  return tank({ ...shape, ...climateOf(shape, setC, around, random) });
};

/** Post-set seed in a recirculating downweller, then an upweller and a raceway on raw water. */
const seedTank = (index: number, house: House, random: Random): Tank => {
  const own = { id: `s${index + 1}`, line: 'seed', room: 'seed-shed', airMain: 'air-a', speciesGroup: house.seeds };
  if (index === 0) {
    const volumeL = random.pick([250, 400, 800]);
    const setC = wantedC(house.seeds, 'post-set', random);
    const shape = { ...own, stage: 'post-set', regime: 'recirculating', volumeL, depthM: 0.5, bubblesPerH: 3 } as const;
    const around = { ...roomOf(undefined, house), inflowC: setC, circuit: house.heaterCircuit };
    const animals = { restMgH: volumeL * random.uniform(0.2, 1.5), feedingShare: 0.5 };
    return tank({ ...shape, animals, ...climateOf(shape, setC, around, random) });
  }
  const isUpweller = index === 1;
  const flowLMin = isUpweller ? random.uniform(12, 40) : random.uniform(8, 25);
  return tank({
    ...own,
    stage: 'nursery',
    regime: 'flow-through',
    volumeL: isUpweller ? random.pick([150, 250, 400]) : random.pick([800, 1500, 2500]),
    depthM: isUpweller ? 0.6 : 0.3,
    flowLMin,
    bubblesPerH: isUpweller ? 0.1 : random.uniform(0.2, 1.5),
    openShare: 1,
    algaeMgLH: random.chance(0.3) ? random.uniform(0.2, 0.6) : 0,
    animals: { restMgH: flowLMin * 60 * random.uniform(0.2, isUpweller ? 1.2 : 0.6), feedingShare: 0.4 },
  });
};

/** Four broodstock tanks, five of the larval room, three of seed. */
export const drawTanks = (house: House, random: Random): readonly Tank[] => [
  ...[0, 1, 2, 3].map((index) => broodTank(index, house, random.fork(`b${index}`))),
  ...[0, 1, 2, 3, 4].map((index) => larvalTank(index, house, random.fork(`l${index}`))),
  ...[0, 1, 2].map((index) => seedTank(index, house, random.fork(`s${index}`))),
];
