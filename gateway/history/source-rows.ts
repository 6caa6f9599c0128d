import type { Database } from '../journal/database.js';
import type { TimeSpan } from '../journal/gateway-runs.js';
import { HOUR_MS, hourOf } from '../journal/hour.js';
import { prepareRawFrom } from '../journal/retention.js';
import { dayOf, prepareSealedDays } from '../journal/sealed-days.js';
import { prepareStoredRows, type StoredRows } from '../journal/stored-rows.js';
import type { OlderDays } from './older-days.js';
import { uniteDays } from './united-days.js';

/** A computed hour (gateway/journal/hour.ts) as a row of numbers: a year of objects took twice as long to read. */
export type HourRow = readonly [
  hour: number,
  usable: number,
  outOfWater: number,
  notPlausible: number,
  faultValue: number,
  sum: number,
  least: number | null,
  greatest: number | null,
  firstMs: number,
  lastMs: number,
];

/** The journal's rows of one source, read through a connection of their own. */
export type SourceRows = StoredRows & {
  /** Computed hours that nothing has changed since, in order; `span` in whole hours. */
  hours(sourceId: number, span: TimeSpan): readonly HourRow[];
  /** Hours of the span whose rows have to be read instead, in order. */
  markedHours(sourceId: number, span: TimeSpan): readonly number[];
  /** Whether readings of the span are in a history database elsewhere, and not fetched. */
  isMissing(sourceId: number, span: TimeSpan): boolean;
};

/** A chart of twelve channels at an hour's zoom asks for the same days again and again: 0.2 MB each. */
const DAYS_REMEMBERED = 48;

export const prepareSourceRows = (database: Database, older: OlderDays): SourceRows => {
  const hours = database
    .prepare<[number, number, number], HourRow>(
      `SELECT hour, usable, out_of_water, not_plausible, fault_value, sum, least, greatest, first_ms, last_ms FROM hour
       WHERE source_id = ? AND hour >= ? AND hour < ? ORDER BY hour`,
    )
    .raw();
  const marked = database
    .prepare<[number, number, number], number>(
      'SELECT hour FROM dirty_hour WHERE source_id = ? AND hour >= ? AND hour < ? ORDER BY hour',
    )
    .pluck();
  const stored = prepareStoredRows(database, uniteDays(prepareSealedDays(database, DAYS_REMEMBERED), older));
  return {
    ...stored,
    ...prepareNeighbours(database, stored),
    isMissing: (sourceId, span) => older.missing(sourceId, span).length > 0,
    hours: (sourceId, span) => {
      const marks = new Set(marked.all(sourceId, span.fromMs / HOUR_MS, span.toMs / HOUR_MS));
      const all = hours.all(sourceId, span.fromMs / HOUR_MS, span.toMs / HOUR_MS);
      return marks.size === 0 ? all : all.filter(([hour]) => !marks.has(hour));
    },
    markedHours: (sourceId, { fromMs, toMs }) => marked.all(sourceId, fromMs / HOUR_MS, toMs / HOUR_MS),
  };
};

/** Where readings were dropped their hours still show that a board spoke: somewhere between the hour's first and last. */
const prepareNeighbours = (database: Database, stored: StoredRows): Pick<StoredRows, 'lastBefore' | 'firstFrom'> => {
  type Ends = readonly [firstMs: number, lastMs: number];
  const rawFromMs = prepareRawFrom(database);
  const before = database
    .prepare<[number, number, number], Ends>(
      `SELECT first_ms, last_ms FROM hour WHERE source_id = ? AND hour <= ? AND first_ms < ? ORDER BY hour DESC LIMIT 1`,
    )
    .raw();
  const from = database
    .prepare<[number, number, number], Ends>(
      `SELECT first_ms, last_ms FROM hour WHERE source_id = ? AND hour >= ? AND last_ms >= ? ORDER BY hour LIMIT 1`,
    )
    .raw();
  return {
    lastBefore: (sourceId, atMs) => {
      const known = stored.lastBefore(sourceId, atMs);
      if (known !== undefined && (rawFromMs() <= known || dayOf(known) === dayOf(atMs - 1))) return known;
      const [, lastMs] =
        rawFromMs() === Number.NEGATIVE_INFINITY ? [] : (before.get(sourceId, hourOf(atMs), atMs) ?? []);
      return lastMs === undefined ? known : Math.max(Math.min(lastMs, atMs - 1), known ?? Number.NEGATIVE_INFINITY);
    },
    firstFrom: (sourceId, atMs) => {
      const known = stored.firstFrom(sourceId, atMs);
      if (known !== undefined && dayOf(known) === dayOf(atMs)) return known;
      const [firstMs] = atMs < rawFromMs() ? (from.get(sourceId, hourOf(atMs), atMs) ?? []) : [];
      return firstMs === undefined ? known : Math.min(Math.max(firstMs, atMs), known ?? Number.POSITIVE_INFINITY);
    },
  };
};
