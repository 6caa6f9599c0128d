import type { Site } from '../../rules/hatchery.js';
import type { Database } from './database.js';
import type { Due } from './due.js';
import { HOUR_MS } from './hour.js';
import { buildMeta } from './meta.js';
import { DAY_MS, dayOf } from './sealed-days.js';

/** How long what is kept; undefined: for ever. Whole UTC days before today. */
export type Retention = {
  readonly rawDays: number | undefined;
  readonly hourDays: number | undefined;
  /** Instead of `rawDays` while a history database elsewhere is written to, of what it has confirmed. */
  readonly confirmedDays: number;
};

/**
 * More than a year, so that the same season of the year before is there reading by reading. Confirmed elsewhere: a day more
 * than the oldest reading that a board may still bring.
 */
export const RETENTION: Retention = { rawDays: 400, hourDays: undefined, confirmedDays: 8 };

/** In `meta`: readings of earlier days were dropped, their hours stay. */
const RAW_FROM_DAY = 'raw-from-day';
/** In `meta`: and those of days before this one are nowhere else. */
const LOST_BEFORE_DAY = 'raw-lost-before-day';

const prepareDayInMeta =
  (key: string) =>
  (database: Database): (() => number) => {
    const meta = buildMeta(database);
    return () => {
      const day = meta.get(key);
      return day === undefined ? Number.NEGATIVE_INFINITY : Number(day) * DAY_MS;
    };
  };

/** Before this moment there are hours only, at least here. Also for the history's own connection. */
export const prepareRawFrom = prepareDayInMeta(RAW_FROM_DAY);

/** Before this moment there are hours only, here and elsewhere. */
export const prepareLostBefore = prepareDayInMeta(LOST_BEFORE_DAY);

/** As the site's people want it; what they left out is as it always was. */
export const retentionOf = ({ keepReadingsDays, keepHoursDays }: Site, usual: Retention = RETENTION): Retention => ({
  rawDays: keepReadingsDays ?? usual.rawDays,
  hourDays: keepHoursDays ?? usual.hourDays,
  confirmedDays: usual.confirmedDays,
});

export type Dropping = {
  /** Drops a few days that are too old; returns at once. */
  beat(nowMs: number): void;
};

/** Few enough not to hold up the event loop: a sealed day is some three pages. */
const DROPS_A_BEAT = 16;

type DroppingParts = {
  readonly database: Database;
  readonly retention: () => Retention;
  readonly due: Pick<Due, 'isFollowed' | 'isAllConfirmedBefore'>;
};

export const buildDropping = ({ database, retention, due }: DroppingParts): Dropping => {
  const meta = buildMeta(database);
  const atLeast = (key: string, day: number): void =>
    meta.set(key, String(Math.max(day, Number(meta.get(key) ?? day))));
  const oldest = (where: string): string =>
    `SELECT source_id, day FROM sealed_day WHERE source_id > ? ${where} ORDER BY source_id, day LIMIT 1`;
  const raw = buildDropper(database, {
    oldest: oldest(''),
    remove: ['DELETE FROM sealed_day WHERE source_id = ? AND day = ?'],
    say: (fromDay) => {
      atLeast(RAW_FROM_DAY, fromDay);
      atLeast(LOST_BEFORE_DAY, fromDay);
    },
  });
  const confirmed = buildDropper(database, {
    oldest: oldest(`AND NOT EXISTS (${REFUSED_OF_DAY}) AND NOT EXISTS (${UNCOMPUTED_OF_DAY})`),
    remove: [REMEMBER_GONE, 'DELETE FROM sealed_day WHERE source_id = ? AND day = ?'],
    say: (fromDay) => atLeast(RAW_FROM_DAY, fromDay),
  });
  const hours = buildDropper(database, {
    oldest: `SELECT source_id, hour * ${HOUR_MS} / ${DAY_MS} FROM hour WHERE source_id > ? ORDER BY source_id, hour LIMIT 1`,
    remove: [`DELETE FROM hour WHERE source_id = ? AND hour * ${HOUR_MS} / ${DAY_MS} = ?`],
  });
  return {
    beat: (nowMs) => {
      const { rawDays, hourDays, confirmedDays } = retention();
      const today = dayOf(nowMs);
      if (!due.isFollowed()) {
        if (rawDays !== undefined) raw(today - rawDays, nowMs);
      } else if (due.isAllConfirmedBefore(today - confirmedDays)) confirmed(today - confirmedDays, nowMs);
      if (hourDays !== undefined) hours(today - hourDays, nowMs);
    },
  };
};

const REFUSED_OF_DAY = `SELECT 1 FROM refused_reading r WHERE r.source_id = sealed_day.source_id
  AND r.device_ms >= sealed_day.day * ${DAY_MS} AND r.device_ms < (sealed_day.day + 1) * ${DAY_MS}`;
const UNCOMPUTED_OF_DAY = `SELECT 1 FROM dirty_hour d WHERE d.source_id = sealed_day.source_id
  AND d.hour >= sealed_day.day * ${DAY_MS / HOUR_MS} AND d.hour < (sealed_day.day + 1) * ${DAY_MS / HOUR_MS}`;
const REMEMBER_GONE = `INSERT INTO gone_day (source_id, day, times, readings)
  SELECT source_id, day, 1, readings FROM sealed_day WHERE source_id = ? AND day = ?
  ON CONFLICT DO UPDATE SET times = times + 1, readings = readings + excluded.readings`;

type Dropper = {
  readonly oldest: string;
  /** Each with source and day. */
  readonly remove: readonly string[];
  /** In the transaction that drops something, from which day on nothing was dropped. */
  readonly say?: (fromDay: number) => void;
};

/** After everything was dropped that could be: what could not, and another day, are looked at again. */
const REST_MS = 3_600_000;

/** Drops what lies before a day, a little at a time, and then rests a while. */
const buildDropper = (
  database: Database,
  { oldest, remove, say }: Dropper,
): ((beforeDay: number, nowMs: number) => void) => {
  const oldestAfter = database.prepare<[number], [sourceId: number, day: number]>(oldest).raw();
  const drops = remove.map((sql) => database.prepare<[number, number]>(sql));
  let restUntilMs = Number.NEGATIVE_INFINITY;
  const dropSome = database.transaction((beforeDay: number): number => {
    let sourceId = Number.MIN_SAFE_INTEGER;
    for (let dropped = 0; dropped < DROPS_A_BEAT; ) {
      const [next, day] = oldestAfter.get(sourceId) ?? [];
      if (next === undefined || day === undefined) return dropped;
      if (day < beforeDay) {
        if (dropped === 0) say?.(beforeDay);
        for (const drop of drops) drop.run(next, day);
        dropped += 1;
      } else sourceId = next;
    }
    return DROPS_A_BEAT;
  });
  return (beforeDay, nowMs) => {
    if (nowMs < restUntilMs) return;
    if (dropSome.immediate(beforeDay) < DROPS_A_BEAT) restUntilMs = nowMs + REST_MS;
  };
};
