import type { Database } from './database.js';
import { DAY_MS, dayOf } from './sealed-days.js';

/** Where sealing has come to, as the journal's owner remembers it: nothing is sealed from `atMs` on. */
export type SealEdge = {
  /** Only behind the edge need anybody look whether a reading's day is sealed. */
  isBehind(deviceMs: number): boolean;
  /** Said before a day is sealed. */
  moveTo(atMs: number): void;
  /** A day behind the edge has changed: what was read of it before must not be sealed. */
  touch(sourceId: number, deviceMs: number): void;
  takeTouched(sourceId: number, day: number): boolean;
};

export const buildSealEdge = (database: Database): SealEdge => {
  const last = database.prepare<[], number | null>('SELECT max(day) FROM sealed_day').pluck().get();
  let edgeMs = last === null || last === undefined ? Number.NEGATIVE_INFINITY : (last + 1) * DAY_MS;
  const touched = new Set<string>();
  return {
    isBehind: (deviceMs) => deviceMs < edgeMs,
    moveTo: (atMs) => {
      edgeMs = Math.max(edgeMs, atMs);
    },
    touch: (sourceId, deviceMs) => {
      touched.add(`${sourceId} ${dayOf(deviceMs)}`);
    },
    takeTouched: (sourceId, day) => {
      const was = touched.has(`${sourceId} ${day}`);
      touched.clear();
      return was;
    },
  };
};
