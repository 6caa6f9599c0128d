/** One value of a stream at a time (UTC milliseconds). */
export type Sample = { readonly atMs: number; readonly value: number };

/**
 * No quantity of water, air or time comes near this, and sums, squares and differences of such numbers stay finite.
 * The streaming statistics do not take a larger value, or one that is not a number, as a sample.
 */
export const LARGEST = 1e15;

/** Whether a number can be a value of a stream. Source: arithmetic. Check: 1e15 can, 2e15 and NaN cannot. */
export const isValue = (value: number): boolean => Math.abs(value) <= LARGEST;

/** The same for a value and its time. Source: arithmetic. Check: NaN at time 0 is none. */
export const isSample = (sample: Sample): boolean => isValue(sample.atMs) && isValue(sample.value);

/**
 * In order of time; of two with the same time the last one given is kept. What is not a sample is left out.
 * Source: arithmetic. Check: of times 2, 1 and 2 the second, then the third.
 */
export const inOrder = (samples: readonly Sample[]): readonly Sample[] => {
  const sorted = samples.filter(isSample).toSorted((a, b) => a.atMs - b.atMs);
  return sorted.filter((sample, i) => sorted[i + 1]?.atMs !== sample.atMs);
};
