import { normalAbove } from './normal.js';

export type Point = { readonly x: number; readonly y: number };

/** Mann-Kendall test for a trend in one direction. p holds for independent samples only: minute readings are not. */
export type MannKendall = {
  /** Rising pairs less falling pairs. */
  readonly s: number;
  readonly varianceS: number;
  readonly z: number;
  /** Two-sided, by the normal approximation; fit for 10 points and more. */
  readonly p: number;
  /** s over the number of pairs, -1 to 1. */
  readonly tau: number;
};

/**
 * Mann-Kendall statistics with the tie term. Points in order of x, at least two; pairs at the same x count for nothing.
 * Source: Gilbert 1987; USEPA 2009 Unified Guidance, chapter 17.
 * Check: USEPA example 17-6, S 194, variance 1428, z 5.107322, p 3.267574e-7.
 */
export const mannKendall = (points: readonly Point[]): MannKendall => {
  const s = risingLessFalling(points);
  const n = points.length;
  const varianceS = varianceOfS(points);
  const z = s === 0 || varianceS <= 0 ? 0 : (s - Math.sign(s)) / Math.sqrt(varianceS);
  return { s, varianceS, z, p: Math.min(1, 2 * normalAbove(Math.abs(z))), tau: n < 2 ? 0 : s / ((n * (n - 1)) / 2) };
};

/**
 * The variance of S with the tie term: all of the test that an interval of a slope needs.
 * Source: Kendall 1975, as USEPA 2009 Unified Guidance, chapter 17, gives it. Check: y of 1, 2, 2, 4: 138/18 = 7.6667.
 */
export const varianceOfS = (points: readonly Point[]): number => (tieTerm(points.length) - tiesIn(points)) / 18;

const risingLessFalling = (points: readonly Point[]): number => {
  let s = 0;
  for (const [i, here] of points.entries()) {
    for (let j = i + 1; j < points.length; j++) {
      const later = points[j];
      if (later !== undefined && later.x > here.x) s += Math.sign(later.y - here.y);
    }
  }
  return s;
};

const tieTerm = (n: number): number => n * (n - 1) * (2 * n + 5);

const tiesIn = (points: readonly Point[]): number => {
  const sorted = new Float64Array(points.length);
  for (let n = 0; n < points.length; n += 1) sorted[n] = points[n]?.y ?? 0;
  sorted.sort();
  let [sum, size] = [0, 0];
  for (let n = 0; n < sorted.length; n += 1) {
    size = n > 0 && sorted[n] === sorted[n - 1] ? size + 1 : 1;
    // The last of its group counts it.
    if (sorted[n] !== sorted[n + 1]) sum += tieTerm(size);
  }
  return sum;
};
