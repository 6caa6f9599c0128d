import { hoursOf, type Measured } from './piece.js';

type Weighed = { readonly value: number; readonly hours: number };
const BINS = 2_048;

/** The value at which so many hours are reached, among values that are sorted here. */
const reached = (values: readonly Weighed[], hours: number): number | undefined => {
  let below = 0;
  const sorted = values.toSorted((a, b) => a.value - b.value);
  return sorted.find((one) => {
    below += one.hours;
    return below >= hours;
  })?.value;
};

/**
 * The value below which a share of the time lay; each piece counts at its middle. A fortnight of readings is not sorted
 * whole: the bin that holds the share is found first, and only what lies in it is put in order.
 */
export const byTime = (pieces: readonly Measured[], hours: number, shares: readonly number[]): readonly number[] => {
  const middles = pieces.map((piece) => ({ value: (piece.from + piece.to) / 2, hours: hoursOf(piece) }));
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const { value } of middles) {
    low = Math.min(low, value);
    high = Math.max(high, value);
  }
  if (high === low || middles.length === 0) return shares.map(() => (middles.length === 0 ? 0 : low));
  const binOf = (value: number): number => Math.min(BINS - 1, Math.floor(((value - low) / (high - low)) * BINS));
  const sums = new Float64Array(BINS);
  for (const one of middles) sums[binOf(one.value)] = (sums[binOf(one.value)] ?? 0) + one.hours;
  return shares.map((share) => {
    let below = 0;
    let bin = 0;
    for (; bin < BINS - 1 && below + (sums[bin] ?? 0) < share * hours; bin += 1) below += sums[bin] ?? 0;
    const inside = middles.filter(({ value }) => binOf(value) === bin);
    return reached(inside, share * hours - below) ?? inside.reduce((most, { value }) => Math.max(most, value), low);
  });
};
