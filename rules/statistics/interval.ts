import { impossible, type Refusal, refusalFor } from '../answer.js';

/** A number with the range it may lie in; low <= mid <= high. What the range means is said where it is made. */
export type Interval = { readonly low: number; readonly mid: number; readonly high: number };

/** An interval without width: the number is taken as known. Source: arithmetic. Check: 4 is from 4 to 4. */
export const exactly = (value: number): Interval => ({ low: value, mid: value, high: value });

/** Uncertain by a factor: mid / factor to mid * factor. Source: arithmetic. Check: 5 within 2 is from 2.5 to 10. */
export const withinFactor = (mid: number, factor: number): Interval => ({
  low: mid / factor,
  mid,
  high: mid * factor,
});

/**
 * Refuses an interval with an end outside the range, or with its ends out of order.
 * Source: arithmetic. Check: from 2 by 1 to 3 is out of order.
 */
export const refusalForInterval = (
  what: string,
  interval: Interval,
  range: readonly [low: number, high: number],
): Refusal | undefined => {
  const { low, mid, high } = interval;
  for (const value of [low, mid, high]) {
    const refusal = refusalFor({ [what]: value }, { [what]: range });
    if (refusal !== undefined) return refusal;
  }
  return low <= mid && mid <= high ? undefined : impossible('interval-out-of-order', { what, low, mid, high }).fault;
};
