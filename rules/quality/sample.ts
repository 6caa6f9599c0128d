/**
 * The middle of the intervals between stamps (UTC ms), the mean of the two middle ones of an even number; 0 with fewer
 * than two stamps. Only the tests of whole series count samples by it; the tank rules go by time.
 */
export const medianInterval = (stampsMs: readonly number[]): number => {
  const intervals = stampsMs.slice(1).map((stamp, n) => stamp - (stampsMs[n] ?? stamp));
  const sorted = intervals.toSorted((a, b) => a - b);
  const middle = sorted.length / 2;
  return ((sorted[Math.ceil(middle) - 1] ?? 0) + (sorted[Math.floor(middle)] ?? 0)) / 2;
};

/** Largest minus smallest; the range of nothing is 0. */
export const rangeOf = (values: readonly number[]): number => {
  let low = Infinity;
  let high = -Infinity;
  for (const value of values) {
    low = Math.min(low, value);
    high = Math.max(high, value);
  }
  return values.length === 0 ? 0 : high - low;
};
