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

type Middles = { readonly values: Float64Array; readonly low: number; readonly high: number };

const middlesOf = (pieces: readonly Measured[]): Middles => {
  const values = new Float64Array(pieces.length);
  let [low, high, n] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, 0];
  for (const { from, to } of pieces) {
    const value = (from + to) / 2;
    if (value < low) low = value;
    if (value > high) high = value;
    values[n] = value;
    n += 1;
  }
  return { values, low, high };
};

/**
 * The value below which a share of the time lay; each piece counts at its middle. A fortnight of readings is not sorted
 * whole: the bin that holds the share is found first, and only what lies in it is put in order.
 */
export const byTime = (pieces: readonly Measured[], hours: number, shares: readonly number[]): readonly number[] => {
  if (pieces.length === 0) return shares.map(() => 0);
  const { values, low, high } = middlesOf(pieces);
  if (high === low) return shares.map(() => low);
  const bins = new Uint16Array(values.length);
  const sums = new Float64Array(BINS);
  let place = 0;
  for (const piece of pieces) {
    const bin = Math.min(BINS - 1, (((values[place] ?? 0) - low) / (high - low)) * BINS) | 0;
    bins[place] = bin;
    sums[bin] = (sums[bin] ?? 0) + hoursOf(piece);
    place += 1;
  }
  return shares.map((share) => {
    let below = 0;
    let bin = 0;
    for (; bin < BINS - 1 && below + (sums[bin] ?? 0) < share * hours; bin += 1) below += sums[bin] ?? 0;
    const inside: Weighed[] = [];
    for (let n = bins.indexOf(bin); n >= 0; n = bins.indexOf(bin, n + 1)) {
      const piece = pieces[n];
      if (piece !== undefined) inside.push({ value: values[n] ?? 0, hours: hoursOf(piece) });
    }
    return reached(inside, share * hours - below) ?? inside.reduce((most, { value }) => Math.max(most, value), low);
  });
};
