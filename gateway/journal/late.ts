import type { Database } from './database.js';
import { preparePutSealed, sealedRow } from './put-sealed.js';
import type { SealEdge } from './seal-edge.js';
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
      put(sealedRow(sourceId, day.day, { ...columns, flags: columns.flags.with(place, flags) }));
      return true;
    },
  };
};
