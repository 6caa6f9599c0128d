/** The standard normal distribution, for tests of trend and for run lengths of charts. */

const SQRT_TWO_PI = Math.sqrt(2 * Math.PI);

/** Density of the normal distribution at z. Source: its definition. Check: 0 gives 0.398942. */
export const normalDensity = (z: number): number => Math.exp((-z * z) / 2) / SQRT_TWO_PI;

/**
 * Share of the normal distribution above z.
 * Source: series near the middle, Laplace's continued fraction in the tail (both textbook forms, from memory).
 * Check: 1.959964 gives 0.025.
 */
export const normalAbove = (z: number): number => {
  if (z < 0) return 1 - normalAbove(-z);
  return z < 3 ? 0.5 - normalDensity(z) * oddSeries(z) : normalDensity(z) / tailFraction(z);
};

/** Share of the normal distribution below z. Source: as above. Check: 1.959964 gives 0.975. */
export const normalBelow = (z: number): number => normalAbove(-z);

/**
 * The z with the given share below it; share in [0.5, 0.999999].
 * Newton from 0: there the curve is concave, so that each step falls short of the answer and none can run away.
 * Source: the share above, turned round. Check: 0.975 gives 1.959964.
 */
export const normalQuantile = (shareBelow: number): number => {
  let z = 0;
  for (let i = 0; i < 200; i++) {
    const step = (normalAbove(z) - (1 - shareBelow)) / normalDensity(z);
    z += step;
    if (Math.abs(step) < 1e-14) break;
  }
  return z;
};

/** z + z^3/3 + z^5/(3*5) + ... : the area from 0 to z over the density at z. */
const oddSeries = (z: number): number => {
  let term = z;
  let sum = z;
  for (let n = 3; Math.abs(term) > 1e-17 * Math.abs(sum); n += 2) {
    term *= (z * z) / n;
    sum += term;
  }
  return sum;
};

/** z + 1/(z + 2/(z + 3/(z + ...))), from the far end back. */
const tailFraction = (z: number): number => {
  let fraction = z;
  for (let n = 120; n >= 1; n--) fraction = z + n / fraction;
  return fraction;
};
