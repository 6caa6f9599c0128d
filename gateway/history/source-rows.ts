import type { Database } from '../journal/database.js';
import type { TimeSpan } from '../journal/gateway-runs.js';
import { HOUR_MS } from '../journal/hour.js';

export type RawRow = readonly [deviceMs: number, raw: number, flags: number];

export type WholeRow = {
  readonly device_ms: number;
  readonly variant: number;
  readonly delay_ms: number;
  readonly raw: number;
  readonly flags: number;
  readonly refused_ms: number | null;
};

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
export type SourceRows = {
  /** In order of device time, whole spans of time at once. */
  raw(sourceId: number, span: TimeSpan): Iterable<RawRow>;
  /** Computed hours that nothing has changed since, in order; `span` in whole hours. */
  hours(sourceId: number, span: TimeSpan): readonly HourRow[];
  /** Hours of the span whose rows have to be read instead, in order. */
  markedHours(sourceId: number, span: TimeSpan): readonly number[];
  count(sourceId: number, span: TimeSpan, atMost: number): number;
  lastBefore(sourceId: number, fromMs: number): number | undefined;
  firstFrom(sourceId: number, toMs: number): number | undefined;
  whole(sourceId: number, span: TimeSpan, atMost: number): readonly WholeRow[];
};

/** 8,640 rows at 1 s. Asking for an array at a time is faster than a row at a time, and leaves no cursor open. */
const STRETCH_MS = 8_640_000;

export const prepareSourceRows = (database: Database): SourceRows => {
  const raw = database
    .prepare<[number, number, number], RawRow>(
      `SELECT device_ms, raw, flags FROM reading WHERE source_id = ? AND device_ms >= ? AND device_ms < ?
       ORDER BY device_ms, variant`,
    )
    .raw();
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
  const count = database
    .prepare<[number, number, number, number], number>(
      `SELECT count(*) FROM
       (SELECT 1 FROM reading WHERE source_id = ? AND device_ms >= ? AND device_ms < ? LIMIT ?)`,
    )
    .pluck();
  const lastBefore = database
    .prepare<[number, number], number>(
      'SELECT device_ms FROM reading WHERE source_id = ? AND device_ms < ? ORDER BY device_ms DESC LIMIT 1',
    )
    .pluck();
  const firstFrom = database
    .prepare<[number, number], number>(
      'SELECT device_ms FROM reading WHERE source_id = ? AND device_ms >= ? ORDER BY device_ms LIMIT 1',
    )
    .pluck();
  const whole = database.prepare<[number, number, number, number], WholeRow>(
    `SELECT device_ms, variant, delay_ms, raw, flags, refused_ms FROM reading
     WHERE source_id = ? AND device_ms >= ? AND device_ms < ? ORDER BY device_ms, variant LIMIT ?`,
  );
  return {
    *raw(sourceId, { fromMs, toMs }) {
      // The ends are looked up first: an empty year is two look-ups, not some thousand.
      const firstMs = firstFrom.get(sourceId, fromMs);
      const endMs = Math.min(toMs, (lastBefore.get(sourceId, toMs) ?? fromMs) + 1);
      for (let at = firstMs ?? endMs; at < endMs; at += STRETCH_MS) {
        yield* raw.all(sourceId, at, Math.min(at + STRETCH_MS, endMs));
      }
    },
    hours: (sourceId, span) => {
      const marks = new Set(marked.all(sourceId, span.fromMs / HOUR_MS, span.toMs / HOUR_MS));
      const all = hours.all(sourceId, span.fromMs / HOUR_MS, span.toMs / HOUR_MS);
      return marks.size === 0 ? all : all.filter(([hour]) => !marks.has(hour));
    },
    markedHours: (sourceId, { fromMs, toMs }) => marked.all(sourceId, fromMs / HOUR_MS, toMs / HOUR_MS),
    count: (sourceId, { fromMs, toMs }, atMost) => count.get(sourceId, fromMs, toMs, atMost) ?? 0,
    lastBefore: (sourceId, fromMs) => lastBefore.get(sourceId, fromMs),
    firstFrom: (sourceId, toMs) => firstFrom.get(sourceId, toMs),
    whole: (sourceId, { fromMs, toMs }, atMost) => whole.all(sourceId, fromMs, toMs, atMost),
  };
};
