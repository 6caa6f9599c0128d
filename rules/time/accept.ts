import { isFreshOnArrival, isStampAccepted } from '../quality/date.js';

/** Longest age of a fresh reading, and the longest silence that is no gap: 60 s or three periods. */
export const freshWithinMs = (periodMs: number | undefined): number => Math.max(60_000, 3 * (periodMs ?? 0));

export type AcceptedTime = {
  /** The reading's own time: the board's when it can be believed, else its arrival. */
  readonly atMs: number;
  /** The board's stamp when it was not believed; kept beside the reading, and the clock is reported. */
  readonly refusedMs?: number;
  /** Young enough to activate an alarm. */
  readonly fresh: boolean;
};

/** What time a reading counts at. Rules and their source: rules/quality/date.ts. */
export const acceptTime = (
  arrivalMs: number,
  deviceMs: number | undefined,
  periodMs: number | undefined,
): AcceptedTime => {
  if (deviceMs === undefined) return { atMs: arrivalMs, fresh: true };
  if (!isStampAccepted(deviceMs, arrivalMs)) return { atMs: arrivalMs, refusedMs: deviceMs, fresh: true };
  return { atMs: deviceMs, fresh: isFreshOnArrival(deviceMs, arrivalMs, periodMs ?? 0) };
};
