import { type Answer, impossible, refusalFor, refuse } from '../answer.js';
import { ok } from '../result.js';
import { LARGEST } from './sample.js';

/** Makes 1.4826 MAD estimate the standard deviation of normal data: 1 / 0.674490 (R stats::mad). */
export const MAD_TO_SIGMA = 1.4826;

/**
 * Numbers in rising order. Typed, because the ordinary sort of an array compares as text.
 * Source: arithmetic. Check: 10, 9, 2 are 2, 9, 10.
 */
export const rising = (values: readonly number[]): Float64Array => new Float64Array(values).sort();

/**
 * The value at a 1-based rank that may lie between two, straight line between them.
 * Undefined outside 1 to the number of values.
 * Source: arithmetic. Check: 1, 2, 4 at rank 2.5: 3.
 */
export const atRank = (sorted: ArrayLike<number>, rank: number): number | undefined => {
  const below = sorted[Math.floor(rank) - 1];
  const above = sorted[Math.ceil(rank) - 1];
  if (below === undefined || above === undefined) return undefined;
  return below + (above - below) * (rank - Math.floor(rank));
};

/**
 * The middle of sorted values; of an even number the mean of the middle two. Undefined when there are none.
 * Source: arithmetic. Check: 1, 2, 4, 6: 3.
 */
export const middle = (sorted: ArrayLike<number>): number | undefined => atRank(sorted, (sorted.length + 1) / 2);

/**
 * Median, in the unit of the values. Answers for one value or more, each within 1e15.
 * Source: its definition. Check: 1, 1, 2, 2, 4, 6, 9 gives 2.
 */
export const median = (values: readonly number[]): Answer => quantile({ values, share: 0.5 });

/**
 * The value below which the given share (0 to 1) lies: straight line between order statistics, rank 1 + share (n - 1).
 * Answers for one value or more, each within 1e15.
 * Source: the usual default of statistics programs (common practice, no source). Check: 1 to 5, a quarter: 2.
 */
export const quantile = ({ values, share }: { readonly values: readonly number[]; readonly share: number }): Answer => {
  const refusal = refusalFor({ share }, { share: [0, 1] }) ?? refusalForValues(values);
  if (refusal !== undefined) return refuse(refusal);
  const value = atRank(rising(values), 1 + share * (values.length - 1));
  return value === undefined ? impossible('too-few-readings', { have: 0, need: 1 }) : ok(value);
};

/**
 * Median and median absolute deviation, unscaled; times MAD_TO_SIGMA it is a standard deviation that no single value
 * can move. Answers for one value or more, each within 1e15.
 * Source: R stats::mad. Check: 1, 1, 2, 2, 4, 6, 9 gives median 2 and MAD 1, scaled 1.4826.
 */
export const medianAbsoluteDeviation = (values: readonly number[]): Answer<MedianAndMad> => {
  const refusal = refusalForValues(values);
  if (refusal !== undefined) return refuse(refusal);
  return ok(spreadOf(values));
};

export type MedianAndMad = { readonly median: number; readonly mad: number };

/** The same for values already known to be finite and at least one. Source: as above. Check: those seven, 2 and 1. */
export const spreadOf = (values: readonly number[]): MedianAndMad => {
  const centre = middle(rising(values)) ?? 0;
  return { median: centre, mad: middle(rising(values.map((value) => Math.abs(value - centre)))) ?? 0 };
};

const refusalForValues = (values: readonly number[]) => {
  if (values.length === 0) return impossible('too-few-readings', { have: 0, need: 1 }).fault;
  for (const value of values) {
    const refusal = refusalFor({ value }, { value: [-LARGEST, LARGEST] });
    if (refusal !== undefined) return refusal;
  }
  return undefined;
};
