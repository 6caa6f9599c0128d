import type { Database } from '../journal/database.js';
import { type Confirmed, type DueReading, unpackDue } from '../journal/due.js';
import { readingFromRow, type StoredReading } from '../journal/readings.js';
import { DAY_MS, prepareSealedDays } from '../journal/sealed-days.js';
import { prepareStoredRows, type StoredRows } from '../journal/stored-rows.js';

/** What is offered together, and what is settled when the database has answered for all of it. */
export type DueBatch = { readonly readings: readonly StoredReading[]; readonly settles: Omit<Confirmed, 'refused'> };

type DayRow = readonly [sourceId: number, day: number, mark: number];

/**
 * What is due next, as it is in the journal now, read through a connection of its own: what landed last comes before old
 * days, so that the present is never behind the past. Undefined when nothing is due.
 */
export const prepareNextDue = (journal: Database, atMost: number): (() => DueBatch | undefined) => {
  const rows = journal
    .prepare<[], [number: number, readings: Buffer]>('SELECT number, readings FROM due ORDER BY number')
    .raw();
  const day = journal.prepare<[], DayRow>('SELECT source_id, day, mark FROM due_day ORDER BY day DESC LIMIT 1').raw();
  const stored = prepareStoredRows(journal, prepareSealedDays(journal, 1));

  const landed = (): DueBatch | undefined => {
    const due: DueReading[] = [];
    let upTo: number | undefined;
    for (const [number, packed] of rows.iterate()) {
      due.push(...unpackDue(packed));
      upTo = number;
      if (due.length >= atMost) break;
    }
    return upTo === undefined ? undefined : { readings: readingsOf(stored, due), settles: { upTo } };
  };
  const wholeDay = (): DueBatch | undefined => {
    const [sourceId, number, mark] = day.get() ?? [];
    if (sourceId === undefined || number === undefined || mark === undefined) return undefined;
    const found = stored.whole(sourceId, number * DAY_MS, (number + 1) * DAY_MS);
    const readings = found.map((row) => readingFromRow(sourceId, row));
    return { readings, settles: { day: { sourceId, day: number, mark } } };
  };
  // In one transaction: a landing in between cannot settle what was not read.
  return journal.transaction(() => landed() ?? wholeDay());
};

/** Far enough apart that two look-ups cost less than what lies between. */
const APART_MS = 600_000;

const readingsOf = (stored: StoredRows, due: readonly DueReading[]): readonly StoredReading[] => {
  const moments = new Map<number, Set<number>>();
  for (const { sourceId, deviceMs } of due)
    moments.set(sourceId, (moments.get(sourceId) ?? new Set<number>()).add(deviceMs));
  return [...moments].flatMap(([sourceId, wanted]) =>
    stretchesOf([...wanted].sort((a, b) => a - b)).flatMap(([fromMs, lastMs]) =>
      stored
        .whole(sourceId, fromMs, lastMs + 1)
        .filter(({ device_ms }) => wanted.has(device_ms))
        .map((row) => readingFromRow(sourceId, row)),
    ),
  );
};

const stretchesOf = (sorted: readonly number[]): readonly (readonly [fromMs: number, lastMs: number])[] => {
  const stretches: [number, number][] = [];
  for (const atMs of sorted) {
    const last = stretches.at(-1);
    if (last !== undefined && atMs - last[1] < APART_MS) last[1] = atMs;
    else stretches.push([atMs, atMs]);
  }
  return stretches;
};
