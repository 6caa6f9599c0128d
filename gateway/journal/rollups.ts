import type { Database } from './database.js';
import { HOUR_MS, type Hour, hourFrom, hourOf, type JudgedRaw } from './hour.js';
import type { DayColumns } from './sealed/day.js';
import type { StoredRows } from './stored-rows.js';
import type { UseOfFlags } from './use.js';

/**
 * Hours are computed from their rows, never counted up: whatever changes an hour marks it in the same transaction, and
 * a marked hour is read from its rows until it is computed again. So a crash, a late reading or a changed verdict can
 * never leave a wrong hour behind, and the order of arrival cannot matter.
 */
export type Rollups = {
  /** Says, inside the transaction that changed it, that an hour has changed. Costs a row once an hour and source. */
  mark(sourceId: number, deviceMs: number): void;
  /** Computes up to `atMost` marked hours that ended by `beforeMs`; returns how many there were. */
  computeClosed(beforeMs: number, atMost: number): number;
  /** Keeps an hour that was computed elsewhere from all of its readings. */
  write(sourceId: number, hour: number, whole: Hour): void;
  hour(sourceId: number, hour: number): Hour | undefined;
  isMarked(sourceId: number, hour: number): boolean;
  /** Reads the marks again, after a transaction was rolled back. */
  reload(): void;
};

type Key = { readonly source_id: number; readonly hour: number };
type HourRow = {
  readonly usable: number;
  readonly out_of_water: number;
  readonly not_plausible: number;
  readonly fault_value: number;
  readonly sum: number;
  readonly least: number | null;
  readonly greatest: number | null;
  readonly first_ms: number;
  readonly last_ms: number;
};

/** Hours since 1970 stay below this until the year 2209. */
const HOURS = 2 ** 21;
const markOf = (sourceId: number, hour: number): number => sourceId * HOURS + hour;

export type RollupsParts = {
  readonly database: Database;
  readonly rows: Pick<StoredRows, 'blocks'>;
  readonly useOfFlags: UseOfFlags;
  /** Before this moment there are hours only. */
  readonly rawFromMs: () => number;
};

export const buildRollups = ({ database, rows, useOfFlags, rawFromMs }: RollupsParts): Rollups => {
  const insertMark = database.prepare<[number, number]>(
    'INSERT INTO dirty_hour (source_id, hour) VALUES (?, ?) ON CONFLICT DO NOTHING',
  );
  const allMarks = database.prepare<[], Key>('SELECT source_id, hour FROM dirty_hour');
  const closedMarks = database.prepare<[number, number], Key>(
    'SELECT source_id, hour FROM dirty_hour WHERE hour < ? LIMIT ?',
  );
  const dropMark = database.prepare<[number, number]>('DELETE FROM dirty_hour WHERE source_id = ? AND hour = ?');
  const write = prepareWrite(database);
  const read = database.prepare<[number, number], HourRow>(
    `SELECT usable, out_of_water, not_plausible, fault_value, sum, least, greatest, first_ms, last_ms
     FROM hour WHERE source_id = ? AND hour = ?`,
  );
  const marked = new Set<number>();

  const reload = (): void => {
    marked.clear();
    for (const { source_id, hour } of allMarks.iterate()) marked.add(markOf(source_id, hour));
  };
  reload();

  const compute = (sourceId: number, hour: number): void => {
    const blocks = rows.blocks(sourceId, hour * HOUR_MS, (hour + 1) * HOUR_MS);
    const whole = hourFrom(judgedIn(blocks, useOfFlags));
    // Of readings that were dropped only the hour is left: what comes later still cannot be added to it.
    const isAll = hour * HOUR_MS >= rawFromMs() || read.get(sourceId, hour) === undefined;
    if (whole !== undefined && isAll) write(sourceId, hour, whole);
    dropMark.run(sourceId, hour);
  };

  const computeAll = database.transaction((keys: readonly Key[]) => {
    for (const { source_id, hour } of keys) compute(source_id, hour);
  });

  return {
    mark: (sourceId, deviceMs) => {
      const hour = hourOf(deviceMs);
      const mark = markOf(sourceId, hour);
      if (marked.has(mark)) return;
      insertMark.run(sourceId, hour);
      marked.add(mark);
    },
    computeClosed: (beforeMs, atMost) => {
      const keys = closedMarks.all(hourOf(beforeMs), atMost);
      if (keys.length === 0) return 0;
      computeAll.immediate(keys);
      for (const { source_id, hour } of keys) marked.delete(markOf(source_id, hour));
      return keys.length;
    },
    write,
    hour: (sourceId, hour) => {
      const row = read.get(sourceId, hour);
      return row === undefined ? undefined : hourFromRow(row);
    },
    isMarked: (sourceId, hour) => marked.has(markOf(sourceId, hour)),
    reload,
  };
};

function* judgedIn(blocks: Iterable<DayColumns>, useOfFlags: UseOfFlags): Generator<JudgedRaw> {
  for (const { deviceMs, raw, flags } of blocks) {
    for (let n = 0; n < deviceMs.length; n += 1)
      yield { deviceMs: deviceMs[n] ?? 0, raw: raw[n] ?? 0, use: useOfFlags(flags[n] ?? 0) };
  }
}

const prepareWrite = (database: Database) => {
  const statement = database.prepare(
    `INSERT OR REPLACE INTO hour
     (source_id, hour, usable, out_of_water, not_plausible, fault_value, sum, least, greatest, first_ms, last_ms)
     VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
  );
  return (sourceId: number, hour: number, whole: Hour): void => {
    const { usable, outOfWater, notPlausible, faultValue, sum, least, greatest, firstMs, lastMs } = whole;
    statement.run([
      ...[sourceId, hour, usable, outOfWater, notPlausible, faultValue],
      ...[sum, least, greatest, firstMs, lastMs],
    ]);
  };
};

const hourFromRow = (row: HourRow): Hour => ({
  usable: row.usable,
  outOfWater: row.out_of_water,
  notPlausible: row.not_plausible,
  faultValue: row.fault_value,
  sum: row.sum,
  least: row.least,
  greatest: row.greatest,
  firstMs: row.first_ms,
  lastMs: row.last_ms,
});
