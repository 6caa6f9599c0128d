import type { Database } from './database.js';
import { type DayColumns, openDay } from './sealed/day.js';

export const DAY_MS = 86_400_000;
/** Whole UTC days since 1970. */
export const dayOf = (atMs: number): number => Math.floor(atMs / DAY_MS);

export type SealedDay = {
  readonly seal: number;
  readonly day: number;
  readonly readings: number;
  readonly firstMs: number;
  readonly lastMs: number;
};

/** The days of a source that lie sealed, read through any connection. */
export type SealedDays = {
  at(sourceId: number, day: number): SealedDay | undefined;
  /** In order, those that may have readings in the span. */
  within(sourceId: number, fromMs: number, toMs: number): readonly SealedDay[];
  /** The last day with a reading before a moment, and the first with one at or after it. */
  lastBefore(sourceId: number, atMs: number): SealedDay | undefined;
  firstFrom(sourceId: number, atMs: number): SealedDay | undefined;
  columns(seal: number): DayColumns;
  /** Forgets what is remembered, after a transaction was rolled back: its numbers will be given again. */
  reload(): void;
};

type Row = readonly [seal: number, day: number, readings: number, firstMs: number, lastMs: number];

const COLUMNS = 'seal, day, readings, first_ms, last_ms';

/** The `remembered` days opened last stay open: an export or a batch of late readings asks for one many times over. */
export const prepareSealedDays = (database: Database, remembered: number): SealedDays => {
  const select = <P extends unknown[]>(where: string) =>
    database.prepare<P, Row>(`SELECT ${COLUMNS} FROM sealed_day WHERE source_id = ? AND ${where}`).raw();
  const at = select<[number, number]>('day = ?');
  const within = select<[number, number, number]>('day BETWEEN ? AND ? ORDER BY day');
  // Of the moment's own day perhaps nothing lies on this side of it.
  const before = select<[number, number]>('day <= ? ORDER BY day DESC LIMIT 2');
  const from = select<[number, number]>('day >= ? ORDER BY day LIMIT 2');
  const body = database.prepare<[number], Buffer>('SELECT body FROM sealed_day WHERE seal = ?').pluck();
  const opened = new Map<number, DayColumns>();

  const columns = (seal: number): DayColumns => {
    const known = opened.get(seal);
    const bytes = known === undefined ? body.get(seal) : undefined;
    const day = known ?? (bytes === undefined ? undefined : openDay(bytes));
    if (day === undefined) throw new Error(`There is no sealed day with the number ${seal}.`);
    opened.delete(seal);
    opened.set(seal, day);
    const [oldest] = opened.keys();
    if (opened.size > remembered && oldest !== undefined) opened.delete(oldest);
    return day;
  };

  return {
    at: (sourceId, day) => dayFrom(at.get(sourceId, day)),
    within: (sourceId, fromMs, toMs) =>
      within
        .all(sourceId, dayOf(fromMs), dayOf(toMs - 1))
        .map(dayFromRow)
        .filter(({ firstMs, lastMs }) => firstMs < toMs && lastMs >= fromMs),
    lastBefore: (sourceId, atMs) =>
      before
        .all(sourceId, dayOf(atMs))
        .map(dayFromRow)
        .find(({ firstMs }) => firstMs < atMs),
    firstFrom: (sourceId, atMs) =>
      from
        .all(sourceId, dayOf(atMs))
        .map(dayFromRow)
        .find(({ lastMs }) => lastMs >= atMs),
    columns,
    reload: () => opened.clear(),
  };
};

const dayFrom = (row: Row | undefined): SealedDay | undefined => (row === undefined ? undefined : dayFromRow(row));

const dayFromRow = ([seal, day, readings, firstMs, lastMs]: Row): SealedDay => ({
  seal,
  day,
  readings,
  firstMs,
  lastMs,
});

/** The place of the first reading at or after a moment; the length when there is none. */
export const placeFrom = (deviceMs: Float64Array, atMs: number): number => {
  let [low, high] = [0, deviceMs.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((deviceMs[middle] ?? 0) < atMs) low = middle + 1;
    else high = middle;
  }
  return low;
};
