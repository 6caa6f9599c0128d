import { FLAG, type Flag, isInside, isPresent, type Series, type Span } from './flag.js';

/**
 * Impossible date over a series of stamps (UTC ms): outside the span, ends included in it, or after `nowMs`, fails.
 * Source: reference implementation of QARTOD, with the clock as an argument.
 */
export const impossibleDateFlags = (
  stampsMs: Series,
  { span, nowMs }: { readonly span: Span; readonly nowMs?: number | undefined },
): Flag[] =>
  stampsMs.map((stamp) => {
    if (!isPresent(stamp)) return FLAG.missing;
    return isInside(span, stamp) && (nowMs === undefined || stamp <= nowMs) ? FLAG.pass : FLAG.fail;
  });

const DAY_MS = 86_400_000;

/** How far before and after its arrival a board's own stamp is believed, ms. Common practice, no source. */
export const STAMP_TRUST = { beforeMs: 7 * DAY_MS, afterMs: 60_000 } as const;

/**
 * Whether a board's stamp can be true. Adapted for boards: before their first time sync they send 1970 or their uptime.
 * A refused stamp is replaced by the arrival; the value is as good as before, only its `date` test fails.
 */
export const isStampAccepted = (deviceMs: number, arrivalMs: number): boolean =>
  deviceMs >= arrivalMs - STAMP_TRUST.beforeMs && deviceMs <= arrivalMs + STAMP_TRUST.afterMs;

/** Whether a reading tells of now: at most the longer of 60 s and three periods old on arrival. Only such may alarm. */
export const isFreshOnArrival = (deviceMs: number, arrivalMs: number, periodMs: number): boolean =>
  arrivalMs - deviceMs <= Math.max(60_000, 3 * periodMs);
