import { freshWithinMs } from './accept.js';

/** Stamps of a board that fell back behind its own newest while it went on sending in its rhythm. */
export type Behind = {
  /** Arrival of the first such reading. */
  readonly sinceMs: number;
  /** Arrival less stamp of that reading. */
  readonly lagMs: number;
  /** Arrival of the newest such reading. */
  readonly lastMs: number;
  /** It has lasted long enough: the clock is behind by `lagMs`. */
  readonly isSure: boolean;
};

const SURE_AFTER_MS = 2 * 60_000;
/** A board that says nothing for longer has been away, and what it says then may be what it held back. */
const AWAY_MS = 5 * 60_000;
/** A link is late by a few seconds now and then; a backlog that is worked off catches up a period with each reading. */
const STEADY_MS = 5_000;
/** A board's clock drifts by so much in days. */
const DRIFT_MS = 60_000;

export type Arrived = {
  readonly arrivalMs: number;
  readonly deviceMs: number;
  /** Time of its newest reading, as it was accepted. */
  readonly newestMs: number | undefined;
  readonly periodMs: number | undefined;
};

/**
 * One stamped reading further. A backlog is old readings that arrive late: after a gap as long, faster than they were
 * read, and not behind what has come already. A clock that was set back shows all three the other way round: no such
 * gap, the old rhythm, and stamps behind the newest, always by the same time. Then the reading is of now and its stamp is wrong.
 * Undefined where nothing of the kind is seen. All times UTC ms. Common practice, no source.
 */
export const stepBehind = (before: Behind | undefined, now: Arrived): Behind | undefined => {
  const { arrivalMs, deviceMs, newestMs, periodMs } = now;
  const lagMs = arrivalMs - deviceMs;
  const withinMs = freshWithinMs(periodMs);
  if (lagMs <= withinMs) return undefined;
  if (before !== undefined && isOf(before, now)) {
    const isSure = before.isSure || arrivalMs - before.sinceMs >= Math.max(SURE_AFTER_MS, withinMs);
    return { ...before, lastMs: arrivalMs, isSure };
  }
  // What comes from farther back while the clock is known to be wrong is a backlog of its own.
  if (before?.isSure === true) return before;
  const isBacklog = newestMs === undefined || deviceMs >= newestMs || lagMs <= 2 * (arrivalMs - newestMs);
  return isBacklog ? undefined : { sinceMs: arrivalMs, lagMs, lastMs: arrivalMs, isSure: false };
};

/** Whether a reading is late by just what the clock is behind by. */
export const isOf = (behind: Behind, { arrivalMs, deviceMs }: Pick<Arrived, 'arrivalMs' | 'deviceMs'>): boolean => {
  const offMs = Math.abs(arrivalMs - deviceMs - behind.lagMs);
  if (behind.isSure) return offMs <= DRIFT_MS;
  return offMs <= STEADY_MS && arrivalMs - behind.lastMs <= AWAY_MS;
};
