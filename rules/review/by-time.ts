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
  const values = Float64Array.from(pieces, ({ from, to }) => (from + to) / 2);
  if (values.length === 0) return shares.map(() => 0);
  const low = values.reduce((least, value) => Math.min(least, value), Number.POSITIVE_INFINITY);
  const high = values.reduce((most, value) => Math.max(most, value), Number.NEGATIVE_INFINITY);
  if (high === low) return shares.map(() => low);
  const bins = Uint16Array.from(values, (value) => Math.min(BINS - 1, ((value - low) / (high - low)) * BINS));
  const sums = new Float64Array(BINS);
  for (const [n, piece] of pieces.entries()) sums[bins[n] ?? 0] = (sums[bins[n] ?? 0] ?? 0) + hoursOf(piece);
  return shares.map((share) => {
    let below = 0;
    let bin = 0;
    for (; bin < BINS - 1 && below + (sums[bin] ?? 0) < share * hours; bin += 1) below += sums[bin] ?? 0;
    const inside: Weighed[] = [];
    for (const [n, piece] of pieces.entries())
      if (bins[n] === bin) inside.push({ value: values[n] ?? 0, hours: hoursOf(piece) });
    return reached(inside, share * hours - below) ?? inside.reduce((most, { value }) => Math.max(most, value), low);
  });
};
