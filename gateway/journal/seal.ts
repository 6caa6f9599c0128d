import type { Database } from './database.js';
import { type SealedRow, sealedRow } from './put-sealed.js';
import { type ColumnRow, columnsFromRows } from './sealed/columns.js';
import type { DayColumns } from './sealed/day.js';
import { DAY_MS, prepareSealedDays } from './sealed-days.js';

export type SealJob = {
  readonly sourceId: number;
  readonly day: number;
  /** Rows taken at once: so many does the journal's owner delete in one go. */
  readonly atMost: number;
};

/** A day as it will lie sealed, and the rows that then go: all of the day up to the last one's key. */
export type SealedJob = {
  readonly rows: number;
  readonly upToMs: number;
  readonly upToVariant: number;
  readonly sealed: SealedRow;
};

/**
 * Reads a day's rows, and what was sealed of it before, and seals them together. Changes nothing: this is the long part
 * of the work, done on a thread and a connection of its own. Undefined when there is no row.
 */
export const seal = (database: Database, job: SealJob): SealedJob | undefined =>
  database.transaction(() => {
    const { sourceId, day } = job;
    const rows = rowsOf(database, job);
    const last = rows.at(-1);
    if (last === undefined) return undefined;
    const sealed = prepareSealedDays(database, 1);
    const before = sealed.at(sourceId, day);
    const all = before === undefined ? rows : inOrder([...sealedRows(sealed.columns(before.seal)), ...rows]);
    return {
      rows: rows.length,
      upToMs: last[0],
      upToVariant: last[1],
      sealed: sealedRow(sourceId, day, columnsFromRows(all)),
    };
  })();

const rowsOf = (database: Database, { sourceId, day, atMost }: SealJob): readonly ColumnRow[] =>
  database
    .prepare<[number, number, number, number], ColumnRow>(
      `SELECT device_ms, variant, delay_ms, raw, flags, refused_ms FROM reading
       WHERE source_id = ? AND device_ms >= ? AND device_ms < ? ORDER BY device_ms, variant LIMIT ?`,
    )
    .raw()
    .all(sourceId, day * DAY_MS, (day + 1) * DAY_MS, atMost);

const sealedRows = ({ deviceMs, variant, delayMs, raw, flags, refusedMs }: DayColumns): readonly ColumnRow[] =>
  Array.from(deviceMs, (atMs, n) => {
    const refused = refusedMs[n] ?? Number.NaN;
    const numbers = [variant[n] ?? 0, delayMs[n] ?? 0, raw[n] ?? 0, flags[n] ?? 0] as const;
    return [atMs, ...numbers, Number.isNaN(refused) ? null : refused];
  });

const inOrder = (rows: readonly ColumnRow[]): readonly ColumnRow[] =>
  rows.toSorted((a, b) => a[0] - b[0] || a[1] - b[1]);
