import type { Database } from './database.js';
import { HOUR_MS } from './hour.js';
import { buildMeta } from './meta.js';
import { DAY_MS, dayOf } from './sealed-days.js';

/** How long what is kept; undefined: for ever. Whole UTC days before today. */
export type Retention = { readonly rawDays: number | undefined; readonly hourDays: number | undefined };

/** More than a year, so that the same season of the year before is there reading by reading. */
export const RETENTION: Retention = { rawDays: 400, hourDays: undefined };

/** In `meta`: readings of earlier days were dropped, their hours stay. */
const RAW_FROM_DAY = 'raw-from-day';

/** Before this moment there are hours only. Also for the history's own connection. */
export const prepareRawFrom = (database: Database): (() => number) => {
  const meta = buildMeta(database);
  return () => {
    const day = meta.get(RAW_FROM_DAY);
    return day === undefined ? Number.NEGATIVE_INFINITY : Number(day) * DAY_MS;
  };
};

export type Dropping = {
  /** Drops a few days that are too old; returns at once. */
  beat(nowMs: number): void;
};

/** Few enough not to hold up the event loop: a sealed day is some three pages. */
const DROPS_A_BEAT = 16;

export const buildDropping = (database: Database, { rawDays, hourDays }: Retention): Dropping => {
  const meta = buildMeta(database);
  const raw = buildDropper(database, {
    oldest: 'SELECT source_id, day FROM sealed_day WHERE source_id > ? ORDER BY source_id, day LIMIT 1',
    remove: 'DELETE FROM sealed_day WHERE source_id = ? AND day = ?',
    say: (fromDay) => meta.set(RAW_FROM_DAY, String(Math.max(fromDay, Number(meta.get(RAW_FROM_DAY) ?? fromDay)))),
  });
  const hours = buildDropper(database, {
    oldest: `SELECT source_id, hour * ${HOUR_MS} / ${DAY_MS} FROM hour WHERE source_id > ? ORDER BY source_id, hour LIMIT 1`,
    remove: `DELETE FROM hour WHERE source_id = ? AND hour * ${HOUR_MS} / ${DAY_MS} = ?`,
  });
  return {
    beat: (nowMs) => {
      if (rawDays !== undefined) raw(dayOf(nowMs) - rawDays);
      if (hourDays !== undefined) hours(dayOf(nowMs) - hourDays);
    },
  };
};

type Dropper = {
  readonly oldest: string;
  readonly remove: string;
  /** In the transaction that drops something, from which day on nothing was dropped. */
  readonly say?: (fromDay: number) => void;
};

/** Drops what lies before a day, a little at a time, and then rests until the day is another. */
const buildDropper = (database: Database, { oldest, remove, say }: Dropper): ((beforeDay: number) => void) => {
  const oldestAfter = database.prepare<[number], [sourceId: number, day: number]>(oldest).raw();
  const drop = database.prepare<[number, number]>(remove);
  let doneDay = Number.NEGATIVE_INFINITY;
  const dropSome = database.transaction((beforeDay: number): number => {
    let sourceId = Number.MIN_SAFE_INTEGER;
    for (let dropped = 0; dropped < DROPS_A_BEAT; ) {
      const [next, day] = oldestAfter.get(sourceId) ?? [];
      if (next === undefined || day === undefined) return dropped;
      if (day < beforeDay) {
        if (dropped === 0) say?.(beforeDay);
        drop.run(next, day);
        dropped += 1;
      } else sourceId = next;
    }
    return DROPS_A_BEAT;
  });
  return (beforeDay) => {
    if (beforeDay <= doneDay) return;
    if (dropSome.immediate(beforeDay) < DROPS_A_BEAT) doneDay = beforeDay;
  };
};
