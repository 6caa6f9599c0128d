import { FLAG, type Flag } from './flag.js';

/** Fresh: within three periods. Silent: nothing for ten periods and a minute; the channel has no value any more. */
export type Lateness = 'fresh' | 'late' | 'silent';

const LATE_PERIODS = 3;
const SILENT_PERIODS = 10;
const SILENT_AT_LEAST_MS = 60_000;

/** Age beyond which a channel is silent, ms: ten periods, at least 60 s. Common practice, no source. */
export const staleAfterMs = (periodMs: number): number => Math.max(SILENT_PERIODS * periodMs, SILENT_AT_LEAST_MS);

/**
 * The gap test (QARTOD test 1) as a tank needs it. Adapted: judged by the gateway's clock while nothing comes, because
 * a probe that has died sends no reading that could carry the flag. Both lines are strict: an age equal to one is inside.
 * @param ageMs now − arrival of the last valid value. @param periodMs the declared sampling period.
 */
export const lateness = (ageMs: number, periodMs: number): Lateness => {
  if (ageMs > staleAfterMs(periodMs)) return 'silent';
  return ageMs > LATE_PERIODS * periodMs ? 'late' : 'fresh';
};

/** The flag of the gap test for a lateness. */
export const gapFlag: Readonly<Record<Lateness, Flag>> = { fresh: FLAG.pass, late: FLAG.suspect, silent: FLAG.fail };
