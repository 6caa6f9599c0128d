import type { Database } from './database.js';
import type { SealEdge } from './seal-edge.js';
import { type DayColumns, sealDay } from './sealed/day.js';
import { dayOf, placeFrom, type SealedDays } from './sealed-days.js';

/** What came late: a reading for a day that is sealed, or another verdict on a sealed reading. */
export type Late = {
  /** Raw values that are sealed at a moment, by variant. */
  rawsAt(sourceId: number, deviceMs: number): readonly number[];
  /** Gives a sealed reading (variant 0) other flags; false when there is none. */
  revise(sourceId: number, deviceMs: number, flags: number): boolean;
};

const NONE: readonly number[] = [];

export const buildLate = (database: Database, sealed: SealedDays, edge: SealEdge): Late => {
  const put = preparePutSealed(database);
  return {
    rawsAt: (sourceId, deviceMs) => {
      const day = edge.isBehind(deviceMs) ? sealed.at(sourceId, dayOf(deviceMs)) : undefined;
      if (day === undefined || deviceMs < day.firstMs || deviceMs > day.lastMs) return NONE;
      const columns = sealed.columns(day.seal);
      const from = placeFrom(columns.deviceMs, deviceMs);
      return [...columns.raw.subarray(from, placeFrom(columns.deviceMs, deviceMs + 1))];
    },
    revise: (sourceId, deviceMs, flags) => {
      const day = edge.isBehind(deviceMs) ? sealed.at(sourceId, dayOf(deviceMs)) : undefined;
      if (day === undefined) return false;
      const columns = sealed.columns(day.seal);
      const place = placeFrom(columns.deviceMs, deviceMs);
      if (columns.deviceMs[place] !== deviceMs) return false;
      put(sourceId, day.day, { ...columns, flags: columns.flags.with(place, flags) });
      return true;
    },
  };
};

/** Seals a day in place of what was sealed of it before, inside the transaction of the caller. */
export type PutSealed = (sourceId: number, day: number, columns: DayColumns, body?: Uint8Array) => void;

export const preparePutSealed = (database: Database): PutSealed => {
  const put = database.prepare<[number, number, number, number, number, Uint8Array]>(
    'INSERT OR REPLACE INTO sealed_day (source_id, day, readings, first_ms, last_ms, body) VALUES (?, ?, ?, ?, ?, ?)',
  );
  return (sourceId, day, columns, body = sealDay(columns)) => {
    const { deviceMs } = columns;
    put.run(sourceId, day, deviceMs.length, deviceMs.at(0) ?? 0, deviceMs.at(-1) ?? 0, body);
  };
};
