/** How the next whole number of a column is guessed from those before; what is kept is how far off the guess was. */
export const FORECASTS = ['middle', 'last', 'steady'] as const;
export type Forecast = (typeof FORECASTS)[number];

/** The running mean is held in sixteenths and follows an eighth of the way: exact in whole numbers up to 2^49. */
const FINE = 16;
const FOLLOW = 8;

/**
 * `middle`: always the same number, for what has no memory. `last`: the one before, for what moves and is quiet.
 * `steady`: a running mean, for what is noisy and moves slowly: with white noise the error is 1.03 times the noise instead
 * of 1.41 times, which is 0.45 bit a reading.
 *
 * How far each number is from its forecast, folded so that small misses either way are small numbers from 0 on.
 */
export const missesOf = (wholes: Float64Array, forecast: Forecast, middle: number): Float64Array => {
  const misses = new Float64Array(wholes.length);
  let guess = middle;
  let mean = middle * FINE;
  for (let n = 0; n < wholes.length; n += 1) {
    const value = wholes[n] ?? 0;
    const miss = value - guess;
    misses[n] = miss >= 0 ? 2 * miss : -2 * miss - 1;
    if (forecast === 'last') guess = value;
    else if (forecast === 'steady') {
      mean += Math.round((value * FINE - mean) / FOLLOW);
      guess = Math.round(mean / FINE);
    }
  }
  return misses;
};

/** The inverse of `missesOf`. */
export const wholesOf = (misses: Float64Array, forecast: Forecast, middle: number): Float64Array => {
  const wholes = new Float64Array(misses.length);
  let guess = middle;
  let mean = middle * FINE;
  for (let n = 0; n < misses.length; n += 1) {
    const folded = misses[n] ?? 0;
    const value = guess + (folded % 2 === 0 ? folded / 2 : -(folded + 1) / 2);
    wholes[n] = value;
    if (forecast === 'last') guess = value;
    else if (forecast === 'steady') {
      mean += Math.round((value * FINE - mean) / FOLLOW);
      guess = Math.round(mean / FINE);
    }
  }
  return wholes;
};
