import type { Interval } from '../statistics/interval.js';

/** When one course of events reaches a line. Never is an answer of its own, not a very long time. */
export type Reach = { readonly kind: 'reaches'; readonly hours: number } | { readonly kind: 'never' };

export const NEVER: Reach = { kind: 'never' };

/**
 * A line reached in so many hours; hours that a number cannot hold, or that run backwards, are never reached.
 * Source: arithmetic. Check: 2 is reached in 2 h, -1 never.
 */
export const reachIn = (hours: number): Reach =>
  hours >= 0 && Number.isFinite(hours) ? { kind: 'reaches', hours } : NEVER;

/** How long until a line is reached, over the range of what is not known exactly. */
export type HoursLeft =
  /** At or beyond the line now. */
  | { readonly kind: 'already' }
  | { readonly kind: 'reaches'; readonly hours: Interval }
  /** The bad end of the range reaches it; the good end never does. `likelyHours` is there when the middle does too. */
  | { readonly kind: 'may-reach'; readonly soonestHours: number; readonly likelyHours?: number }
  /** Not even the bad end reaches it. */
  | { readonly kind: 'never' };

/**
 * The answer over three courses, in hours: the soonest, the likely and the latest.
 * Source: arithmetic. Check: 5 h, 10 h and never may reach it, at the soonest in 5 h and likely in 10 h.
 */
export const hoursLeftFrom = (courses: {
  readonly soonest: Reach;
  readonly likely: Reach;
  readonly latest: Reach;
}): HoursLeft => {
  const [soonest, likely, latest] = [hoursOf(courses.soonest), hoursOf(courses.likely), hoursOf(courses.latest)];
  if (soonest === undefined) return { kind: 'never' };
  if (likely === undefined) return { kind: 'may-reach', soonestHours: soonest };
  if (likely === 0) return { kind: 'already' };
  // The three are ordered by their making; the last digit of the arithmetic may not be.
  const low = Math.min(soonest, likely);
  if (latest === undefined) return { kind: 'may-reach', soonestHours: low, likelyHours: likely };
  return { kind: 'reaches', hours: { low, mid: likely, high: Math.max(likely, latest) } };
};

const hoursOf = (reach: Reach): number | undefined => (reach.kind === 'reaches' ? reach.hours : undefined);
