import { gammaQuantile } from './gamma.js';

/** The 97.5 % point of the normal distribution. */
export const Z95 = 1.959_963_984_540_054;

export type ConfidenceInterval = { readonly low: number; readonly high: number };

/**
 * Exact 95 % interval of a Poisson mean from one count. From 0 up: a count of 0 gives 0 to 3.69.
 * Source: Garwood 1936, Biometrika 28:437-442 (from memory). Check value: 192 gives 165.80 to 221.16.
 */
export const poissonInterval95 = (count: number): ConfidenceInterval => ({
  low: count === 0 ? 0 : gammaQuantile(0.025, count),
  high: gammaQuantile(0.975, count + 1),
});

/**
 * Chi-square that chance exceeds once in twenty, degrees of freedom from 1.
 * Source: chi-square is twice a gamma of half the degrees (textbook, from memory). Check value: 11.0705 at 5.
 */
export const chiSquareCritical95 = (degrees: number): number => 2 * gammaQuantile(0.95, degrees / 2);

/**
 * Student's t for a two-sided 95 % interval, whole degrees of freedom from 1. Check values: 12.7062 at 1, 2.5706 at 5.
 * Source: Abramowitz and Stegun 1964, 26.7.3 and 26.7.4 (from memory), solved by halving.
 */
export const studentT95 = (degrees: number): number => {
  let low = 0;
  let high = Math.PI / 2;
  for (let step = 0; step < 60; step += 1) {
    const middle = (low + high) / 2;
    if (shareWithin(middle, degrees) < 0.95) low = middle;
    else high = middle;
  }
  return Math.sqrt(degrees) * Math.tan((low + high) / 2);
};

/** Share of Student's distribution within ±t, where angle = atan(t / √degrees). */
const shareWithin = (angle: number, degrees: number): number => {
  const odd = degrees % 2 === 1;
  const cosine = Math.cos(angle);
  let term = odd ? cosine : 1;
  let sum = degrees === 1 ? 0 : term;
  for (let k = odd ? 3 : 2; k < degrees; k += 2) {
    term *= ((k - 1) / k) * cosine ** 2;
    sum += term;
  }
  const share = Math.sin(angle) * sum;
  return odd ? (2 / Math.PI) * (angle + share) : share;
};

/**
 * 95 % interval of a share, by Wilson's score. Never below 0 or above 1, and never of no width.
 * Source: Wilson 1927, J. Am. Stat. Assoc. 22:209-212 (from memory). Check value: 18 of 150: 0.0773 to 0.1817.
 */
export const wilsonInterval95 = (hits: number, of: number): ConfidenceInterval => {
  const share = hits / of;
  const z2 = Z95 ** 2;
  const middle = (share + z2 / (2 * of)) / (1 + z2 / of);
  const half = (Z95 / (1 + z2 / of)) * Math.sqrt((share * (1 - share)) / of + z2 / (4 * of ** 2));
  return { low: hits === 0 ? 0 : middle - half, high: hits === of ? 1 : middle + half };
};
