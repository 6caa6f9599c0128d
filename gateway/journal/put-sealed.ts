import type { Database } from './database.js';
import { type DayColumns, sealDay } from './sealed/day.js';

/** A day as it lies sealed. */
export type SealedRow = {
  readonly sourceId: number;
  readonly day: number;
  readonly readings: number;
  readonly firstMs: number;
  readonly lastMs: number;
  readonly body: Uint8Array;
};

/** `body` where the columns have been sealed already. */
export const sealedRow = (sourceId: number, day: number, columns: DayColumns, body?: Uint8Array): SealedRow => ({
  sourceId,
  day,
  readings: columns.deviceMs.length,
  firstMs: columns.deviceMs.at(0) ?? 0,
  lastMs: columns.deviceMs.at(-1) ?? 0,
  body: body ?? sealDay(columns),
});

/** Puts a sealed day in place of what was sealed of it before, inside the transaction of the caller. */
export const preparePutSealed = (database: Database): ((row: SealedRow) => void) => {
  const put = database.prepare<[number, number, number, number, number, Uint8Array]>(
    'INSERT OR REPLACE INTO sealed_day (source_id, day, readings, first_ms, last_ms, body) VALUES (?, ?, ?, ?, ?, ?)',
  );
  return ({ sourceId, day, readings, firstMs, lastMs, body }) => {
    put.run(sourceId, day, readings, firstMs, lastMs, body);
  };
};
