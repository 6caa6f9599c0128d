import type { CountFields } from '../../rules/log/common.js';
import type { SpeciesGroupId } from '../../rules/stage/profiles.js';
import { normalAt, seedFrom } from '../random.js';
import { LIVES, type Life, occupant, type Stop } from './demo-lives.js';
import type { DemoPen } from './demo-pen.js';

const MINUTE_MS = 60_000;
const DRAIN_MS = 32 * MINUTE_MS;
const GROUP: SpeciesGroupId = 'warm-temperate-burrowing-clam';
const SMALL: readonly string[] = ['embryo', 'larva'];

/** Larvae and eggs by three subsamples of a stirred bucket, seed by its weight as a number with an interval. */
export const counted = (animals: number, stage: string, label: string): CountFields => {
  if (!SMALL.includes(stage)) {
    const round = (value: number): number => Math.round(value / 1000) * 1000;
    return { animals: round(animals), low: round(animals * 0.94), high: round(animals * 1.06) };
  }
  const [totalL, subsampleMl] = [10, 0.2];
  const middle = (animals / (totalL * 1000)) * subsampleMl;
  const counts = [0, 1, 2].map((n) =>
    Math.max(1, Math.round(middle + Math.sqrt(middle) * 0.5 * normalAt(seedFrom(n, label), n))),
  );
  return { counts, subsampleMl, totalL };
};

/** A shell of a larva on a day of its age, µm. Invented, in the range of the trade. */
export const lengthUm = (ageDays: number): number => Math.round(88 + 9.5 * ageDays);
export const screenUm = (ageDays: number): number =>
  [35, 48, 60, 80, 100, 120, 150][Math.min(6, Math.floor(ageDays / 2.5))] ?? 35;

/** Parents in the beds, with origin and permit. */
export const parentsCame = ({ at, write, together }: DemoPen): void => {
  for (const [n, tank] of ['b1', 'b2', 'b3', 'b4', 'b5'].entries()) {
    together(() =>
      write('brought-in', at(96 - n, '10:20'), tank, {
        batchId: `P-${n + 1}`,
        speciesGroup: GROUP,
        stage: n < 3 ? 'conditioning' : 'ripe',
        count: { animals: 80 - 6 * n },
        origin: n % 2 === 0 ? 'Outer bar, Saltmarsh Sound' : 'Heron Creek',
        permit: `SL-BR-${114 + n}`,
        certificate: `HC-${2031 + n}`,
      }),
    );
  }
};

/** Every batch from its eggs on, tank by tank. */
export const batchesLived = (pen: DemoPen): void => {
  for (const life of LIVES) {
    pen.together(() => eggs(pen, life));
    for (const [n, next] of life.stops.entries()) {
      const before = life.stops[n - 1];
      if (before !== undefined) pen.together(() => moved(pen, life, before, next));
    }
  }
};

const eggs = ({ at, write }: DemoPen, { batch, parents, stops }: Life): void => {
  const [first] = stops;
  if (first === undefined) return;
  write('eggs-stocked', at(first.day, '12:10'), first.tank, {
    batchId: batch,
    speciesGroup: GROUP,
    count: counted(first.animals, 'embryo', batch),
    parents: [parents],
    fertilisedPct: 86 + (first.day % 9),
  });
};

const moved = ({ at, write, happens }: DemoPen, { batch, stops }: Life, from: Stop, to: Stop): void => {
  const startedMs = at(to.day, '07:05');
  const toMs = startedMs + DRAIN_MS;
  const ageDays = (stops[0]?.day ?? to.day) - to.day;
  happens({ kind: 'drain-down', tank: from.tank.toUpperCase(), declared: true, fromMs: startedMs, toMs });
  write('work', startedMs - 4 * MINUTE_MS, from.tank, { work: 'drain-down', minutes: 90 });
  const seen = SMALL.includes(to.stage)
    ? ({ screensUm: [screenUm(ageDays)], swimming: 'most', gut: from.stage === 'embryo' ? 'some' : 'full' } as const)
    : {};
  write('drain-down', toMs + 24 * MINUTE_MS, from.tank, {
    startedMs,
    ...seen,
    ...taken(from, to),
    count: counted(to.animals, to.stage, `${batch} ${to.day}`),
    ...(to.stage === from.stage ? {} : { stage: to.stage }),
    ...(to.tank === from.tank ? { end: 'back-in' } : { end: 'to', placeId: to.tank }),
    accept: true,
  });
};

/** Of eggs, most never become larvae; of larvae, the small ones stay behind on the screen. */
const taken = (from: Stop, to: Stop): { readonly dead?: number; readonly culled?: number } => {
  const before = occupant(from.tank, to.day)?.animals ?? from.animals;
  const gone = Math.max(0, Math.round((before - to.animals) / 1000) * 1000);
  if (gone === 0) return {};
  return from.stage === 'embryo' ? { dead: gone } : { dead: Math.round(gone / 3), culled: gone - Math.round(gone / 3) };
};

/** Larvae found on the bottom of L2: what was seen, what was saved, and the tank made clean again. */
export const larvaeLost = ({ at, write, together }: DemoPen): void => {
  const day = LIVES.find(({ lostDay }) => lostDay !== undefined)?.lostDay ?? 6;
  together(() => {
    write('note', at(day, '07:12'), 'l2', { words: 'Larvae on the bottom, hardly any swimming. L3 and L4 look well.' });
    write('deaths', at(day, '07:25'), 'l2', { animals: 450_000, signs: 'on the bottom, empty shells, pale gut' });
    write('sample', at(day, '07:40'), 'l2', {
      animals: 600,
      purpose: 'live, dead and water, 1 L cold and 1 L frozen',
      sentTo: 'county laboratory',
    });
    write('dump', at(day, '09:30'), 'l2', { why: 'lost within a night; nothing left to save' });
    write('disinfection', at(day, '10:15'), 'l2', { product: 'hypochlorite', doseMgL: 50, forMin: 120 });
    write('residual-test', at(day, '15:40'), 'l2', { product: 'hypochlorite', foundMgL: 0, rinsed: true });
  });
};

/** Seed that left the hatchery, and the papers that went with it. */
export const seedSold = ({ at, write, together }: DemoPen): void => {
  together(() => {
    write('sample', at(9, '09:10'), 's4', { animals: 150, purpose: 'health certificate', sentTo: 'county laboratory' });
    write('sale', at(4, '11:30'), 's4', {
      batchId: 'C-1',
      animals: 120_000,
      to: 'Glasswort Flats growers',
      permit: 'SL-OUT-031',
      certificate: 'HC-2107',
    });
  });
};
