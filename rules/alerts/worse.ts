import { type Harm, PRIORITIES, type Priority } from '../conditions/finding.js';

const MINUTE_MS = 60_000;

/** A harm nearer than this is worth another call where none was foreseen. Decision of this project. */
const NEAR_MS = 120 * MINUTE_MS;
const SOONER_MS = 10 * MINUTE_MS;

export const isHigher = (after: Priority, before: Priority): boolean =>
  PRIORITIES.indexOf(after) > PRIORITIES.indexOf(before);

/**
 * Whether the forecast got materially worse than the one that was told: the clock time of harm moved nearer by 10 minutes
 * and by a third of what was left, or harm is now seen within 2 hours where none was. Time that merely passed is not worse.
 * Figures: decision of this project, no source.
 */
export const isForecastWorse = (told: Harm | undefined, now: Harm | undefined, nowMs: number): boolean => {
  if (now === undefined) return false;
  if (told === undefined) return now.atMs - nowMs <= NEAR_MS;
  const nearerMs = told.atMs - now.atMs;
  return nearerMs >= SOONER_MS && nearerMs * 3 >= told.atMs - nowMs;
};
