import type { Database } from './database.js';
import { type ColumnRow, columnsFromRows, mergedColumns, slicedColumns } from './sealed/columns.js';
import type { DayColumns } from './sealed/day.js';
import { DAY_MS, placeFrom, type SealedDay, type SealedDays } from './sealed-days.js';

export type WholeRow = {
  readonly device_ms: number;
  readonly variant: number;
  readonly delay_ms: number;
  readonly raw: number;
  readonly flags: number;
  readonly refused_ms: number | null;
};

/** One source's readings, sealed or not, in order of device time and variant. Spans include their start and not their end. */
export type StoredRows = {
  /** Some thousands at once, column by column: millions of readings as rows took several times as long. */
  blocks(sourceId: number, fromMs: number, toMs: number): Iterable<DayColumns>;
  /** Everything that is known of the first `atMost` readings. */
  whole(sourceId: number, fromMs: number, toMs: number, atMost?: number): readonly WholeRow[];
  /** Counted no further than `atMost`. */
  count(sourceId: number, fromMs: number, toMs: number, atMost?: number): number;
  lastBefore(sourceId: number, atMs: number): number | undefined;
  firstFrom(sourceId: number, atMs: number): number | undefined;
};

/** 8,640 rows at 1 s. Asking for an array at a time is faster than a row at a time, and leaves no cursor open. */
const STRETCH_MS = 8_640_000;
const ALL = -1;

export const prepareStoredRows = (database: Database, sealed: SealedDays): StoredRows => {
  const rows = prepareRows(database);

  const lastBefore = (sourceId: number, atMs: number): number | undefined => {
    const day = sealed.lastBefore(sourceId, atMs);
    return later(rows.lastBefore.get(sourceId, atMs), day === undefined ? undefined : lastIn(sealed, day, atMs));
  };
  const firstFrom = (sourceId: number, atMs: number): number | undefined => {
    const day = sealed.firstFrom(sourceId, atMs);
    return earlier(rows.firstFrom.get(sourceId, atMs), day === undefined ? undefined : firstIn(sealed, day, atMs));
  };

  /** Stretches of rows between the sealed days, and each sealed day with the late rows that lie beside it. */
  function* parts(sourceId: number, fromMs: number, toMs: number): Generator<Part> {
    let at = fromMs;
    for (const day of sealed.within(sourceId, fromMs, toMs)) {
      const starts = Math.max(day.day * DAY_MS, at);
      const ends = Math.min((day.day + 1) * DAY_MS, toMs);
      yield* stretches(sourceId, at, starts);
      yield { fromMs: starts, toMs: ends, day };
      at = ends;
    }
    yield* stretches(sourceId, at, toMs);
  }
  function* stretches(sourceId: number, fromMs: number, toMs: number): Generator<Part> {
    if (fromMs >= toMs) return;
    // The ends are looked up first: an empty year is two look-ups, not some thousand.
    const endMs = Math.min(toMs, (rows.lastBefore.get(sourceId, toMs) ?? fromMs) + 1);
    const firstMs = rows.firstFrom.get(sourceId, fromMs) ?? endMs;
    for (let at = firstMs; at < endMs; at += STRETCH_MS) yield { fromMs: at, toMs: Math.min(at + STRETCH_MS, endMs) };
  }

  return {
    *blocks(sourceId, fromMs, toMs) {
      for (const part of parts(sourceId, fromMs, toMs)) {
        const found = rows.columns.all(sourceId, part.fromMs, part.toMs);
        if (part.day === undefined) {
          if (found.length > 0) yield columnsFromRows(found);
          continue;
        }
        const { columns, from, to } = slice(sealed, part.day, part);
        const block = slicedColumns(columns, from, to);
        yield found.length === 0 ? block : mergedColumns(block, columnsFromRows(found));
      }
    },
    whole: (sourceId, fromMs, toMs, atMost = Number.POSITIVE_INFINITY) => {
      const all: WholeRow[] = [];
      for (const part of parts(sourceId, fromMs, toMs)) {
        if (all.length >= atMost) break;
        const limit = atMost === Number.POSITIVE_INFINITY ? ALL : atMost - all.length;
        const found = rows.whole.all(sourceId, part.fromMs, part.toMs, limit);
        const whole = part.day === undefined ? found : united(slice(sealed, part.day, part), found);
        for (const row of whole) {
          if (all.length >= atMost) return all;
          all.push(row);
        }
      }
      return all;
    },
    count: (sourceId, fromMs, toMs, atMost = Number.POSITIVE_INFINITY) => {
      let sum = 0;
      for (const day of sealed.within(sourceId, fromMs, toMs)) {
        sum += countIn(sealed, day, fromMs, toMs);
        if (sum >= atMost) return atMost;
      }
      const limit = atMost === Number.POSITIVE_INFINITY ? ALL : atMost - sum;
      return sum + (rows.count.get(sourceId, fromMs, toMs, limit) ?? 0);
    },
    lastBefore,
    firstFrom,
  };
};

type Part = { readonly fromMs: number; readonly toMs: number; readonly day?: SealedDay };

const OF_SPAN = 'FROM reading WHERE source_id = ? AND device_ms >= ? AND device_ms < ?';

const prepareRows = (database: Database) => ({
  columns: database
    .prepare<[number, number, number], ColumnRow>(
      `SELECT device_ms, variant, delay_ms, raw, flags, refused_ms ${OF_SPAN} ORDER BY device_ms, variant`,
    )
    .raw(),
  whole: database.prepare<[number, number, number, number], WholeRow>(
    `SELECT device_ms, variant, delay_ms, raw, flags, refused_ms ${OF_SPAN} ORDER BY device_ms, variant LIMIT ?`,
  ),
  count: database
    .prepare<[number, number, number, number], number>(`SELECT count(*) FROM (SELECT 1 ${OF_SPAN} LIMIT ?)`)
    .pluck(),
  lastBefore: database
    .prepare<[number, number], number>(
      'SELECT device_ms FROM reading WHERE source_id = ? AND device_ms < ? ORDER BY device_ms DESC LIMIT 1',
    )
    .pluck(),
  firstFrom: database
    .prepare<[number, number], number>(
      'SELECT device_ms FROM reading WHERE source_id = ? AND device_ms >= ? ORDER BY device_ms LIMIT 1',
    )
    .pluck(),
});

type Slice = { readonly columns: DayColumns; readonly from: number; readonly to: number };

const slice = (sealed: SealedDays, day: SealedDay, { fromMs, toMs }: Part): Slice => {
  const columns = sealed.columns(day.seal);
  const from = fromMs <= day.firstMs ? 0 : placeFrom(columns.deviceMs, fromMs);
  const to = toMs > day.lastMs ? day.readings : placeFrom(columns.deviceMs, toMs);
  return { columns, from, to };
};

/** Both in order of time. A late row of a sealed moment was numbered after it, so it comes after it. */
function* united({ columns, from, to }: Slice, rows: readonly WholeRow[]): Generator<WholeRow> {
  const { deviceMs } = columns;
  let next = 0;
  for (let place = from; place < to; place += 1) {
    const atMs = deviceMs[place] ?? 0;
    for (let row = rows[next]; row !== undefined && row.device_ms < atMs; row = rows[next]) {
      yield row;
      next += 1;
    }
    yield wholeRow(columns, place);
  }
  yield* rows.slice(next);
}

const wholeRow = (columns: DayColumns, place: number): WholeRow => {
  const refusedMs = columns.refusedMs[place] ?? Number.NaN;
  return {
    device_ms: columns.deviceMs[place] ?? 0,
    variant: columns.variant[place] ?? 0,
    delay_ms: columns.delayMs[place] ?? 0,
    raw: columns.raw[place] ?? 0,
    flags: columns.flags[place] ?? 0,
    refused_ms: Number.isNaN(refusedMs) ? null : refusedMs,
  };
};

const countIn = (sealed: SealedDays, day: SealedDay, fromMs: number, toMs: number): number => {
  if (fromMs <= day.firstMs && toMs > day.lastMs) return day.readings;
  const { from, to } = slice(sealed, day, { fromMs, toMs });
  return to - from;
};

const lastIn = (sealed: SealedDays, day: SealedDay, atMs: number): number | undefined => {
  if (day.lastMs < atMs) return day.lastMs;
  const { deviceMs } = sealed.columns(day.seal);
  return deviceMs[placeFrom(deviceMs, atMs) - 1];
};

const firstIn = (sealed: SealedDays, day: SealedDay, atMs: number): number | undefined => {
  if (day.firstMs >= atMs) return day.firstMs;
  const { deviceMs } = sealed.columns(day.seal);
  return deviceMs[placeFrom(deviceMs, atMs)];
};

const later = (one: number | undefined, other: number | undefined): number | undefined =>
  one === undefined || other === undefined ? (one ?? other) : Math.max(one, other);

const earlier = (one: number | undefined, other: number | undefined): number | undefined =>
  one === undefined || other === undefined ? (one ?? other) : Math.min(one, other);
