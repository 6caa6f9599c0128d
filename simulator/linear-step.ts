/**
 * Exact steps of linear balances: no step size is unstable, and one step of a minute is sixty of a second as long as
 * what surrounds the water does not change meanwhile. Rates are per hour, times in hours.
 */

/** Two layers of equal volume. */
export type Pair = { readonly upper: number; readonly lower: number };

/** dx/dt = gain - loss x + exchange (the other layer - x), in each layer. Losses may be 0; the exchange must not be. */
export type PairRates = { readonly gain: Pair; readonly loss: Pair; readonly exchangePerH: number };

/** dx/dt = gain - loss x, after `dtH` hours. */
export const stepSingle = (value: number, gainPerH: number, lossPerH: number, dtH: number): number =>
  value * Math.exp(-lossPerH * dtH) + gainPerH * grown(-lossPerH, dtH);

/**
 * The matrix exponential of the two-layer balance by its eigenvalues. They are real and apart, because the exchange is
 * the same both ways and greater than zero.
 */
export const stepPair = (pair: Pair, { gain, loss, exchangePerH }: PairRates, dtH: number): Pair => {
  const up = -loss.upper - exchangePerH;
  const low = -loss.lower - exchangePerH;
  const half = Math.hypot((up - low) / 2, exchangePerH);
  const slow = (up + low) / 2 + half;
  const fast = (up + low) / 2 - half;
  const decay = interpolation(Math.exp(slow * dtH), Math.exp(fast * dtH), slow, fast);
  const growth = interpolation(grown(slow, dtH), grown(fast, dtH), slow, fast);
  const apply = ({ plain, by }: Interpolation, x: Pair): Pair => ({
    upper: (plain + by * up) * x.upper + by * exchangePerH * x.lower,
    lower: (plain + by * low) * x.lower + by * exchangePerH * x.upper,
  });
  const kept = apply(decay, pair);
  const gained = apply(growth, gain);
  return { upper: kept.upper + gained.upper, lower: kept.lower + gained.lower };
};

export const meanOf = ({ upper, lower }: Pair): number => (upper + lower) / 2;

/** f(A) = plain I + by A, for a 2 by 2 matrix with the eigenvalues `slow` and `fast`. */
type Interpolation = { readonly plain: number; readonly by: number };

const interpolation = (atSlow: number, atFast: number, slow: number, fast: number): Interpolation => {
  const by = (atSlow - atFast) / (slow - fast);
  return { plain: atSlow - slow * by, by };
};

/** The integral of exp(rate s) over s from 0 to `dtH`; its limit where the rate is 0. */
const grown = (ratePerH: number, dtH: number): number => (ratePerH === 0 ? dtH : Math.expm1(ratePerH * dtH) / ratePerH);
