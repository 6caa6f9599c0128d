import { batchStory } from '../../rules/log/batch.js';
import type { Entry } from '../../rules/log/entry.js';
import { batchNames } from '../../rules/log/inspector.js';
import type { LogRecord } from '../../rules/log/record.js';
import type { Place } from '../../rules/place.js';
import type { PatternTank } from '../../rules/review/pattern.js';
import { dayStartMs } from '../../rules/words/clock.js';

const PEOPLE_MS = 72 * 3_600_000;
const DAYS_MS = 14 * 86_400_000;

/** By tank, the batches that were in it at a moment. */
export const batchesAt = ({ stock }: LogRecord, atMs: number): ReadonlyMap<string, readonly string[]> => {
  const by = new Map<string, string[]>();
  for (const id of batchNames(stock)) {
    for (const { placeId, fromMs, toMs } of batchStory(id, stock)?.stays ?? []) {
      // What was dumped or died out at that very moment was there.
      if (fromMs > atMs || (toMs ?? atMs) < atMs) continue;
      by.set(placeId, [...(by.get(placeId) ?? []), id]);
    }
  }
  return by;
};

/** Since when the oldest batch of these tanks has been one. */
export const batchBeganMs = ({ stock }: LogRecord, ids: readonly string[]): number | undefined => {
  const began = ids.flatMap((id) => batchStory(id, stock)?.beganMs ?? []);
  return began.length === 0 ? undefined : Math.min(...began);
};

const WORK: readonly Entry['kind'][] = [
  'water-change',
  'cleaning',
  'disinfection',
  'treatment',
  'drain-down',
  'work',
  'move',
  'split',
  'pool',
];

const supplies = ({ lineId, airMainId, circuitId, roomId, stage }: Place) => ({
  ...(lineId === undefined ? {} : { lineId }),
  ...(airMainId === undefined ? {} : { airMainId }),
  ...(circuitId === undefined ? {} : { circuitId }),
  ...(roomId === undefined ? {} : { roomId }),
  ...(stage === undefined ? {} : { stage }),
});

export type TanksQuestion = {
  readonly places: readonly Place[];
  readonly record: LogRecord;
  readonly affected: readonly string[];
  readonly atMs: number;
  readonly zone: string;
};

/** Every tank with animals at that moment, and what it shares with others. One named as affected is always among them. */
export const patternTanks = ({ places, record, affected, atMs, zone }: TanksQuestion): readonly PatternTank[] => {
  const batches = batchesAt(record, atMs);
  const before = record.ruling.entries.filter((entry) => entry.atMs <= atMs && entry.atMs > atMs - DAYS_MS);
  return places
    .filter(({ kind }) => kind === 'tank')
    .filter(({ id, stage }) => affected.includes(id) || batches.has(id) || (stage !== undefined && stage !== 'empty'))
    .map((place) => {
      const here = before.filter(({ placeId }) => placeId === place.id);
      const work = here.filter(({ kind }) => WORK.includes(kind));
      // Who found the dead did not work there for it.
      const lately = here.filter((entry) => entry.atMs > atMs - PEOPLE_MS && entry.kind !== 'deaths');
      return {
        placeId: place.id,
        affected: affected.includes(place.id),
        ...supplies(place),
        batches: batches.get(place.id) ?? place.batch?.split(' + ') ?? [],
        people: [...new Set(lately.map(({ by, initials }) => initials ?? by))],
        workDays: [...new Set(work.map((entry) => dayStartMs(entry.atMs, zone)))],
      };
    });
};
