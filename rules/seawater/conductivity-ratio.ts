/**
 * Salinity as a function of x, the square root of the conductivity ratio Rt (to salinity 35 at the same temperature and
 * without pressure), and of t in °C on IPTS-68. Bare arithmetic: salinity.ts refuses what is out of range.
 */

/** f in UNESCO 44, p. 8: how far the temperature is from 15 °C, bent. */
const warmth = (t: number): number => (t - 15) / (1 + 0.0162 * (t - 15));

/**
 * Practical salinity by PSS-78, for numbers already checked: salinity 2 to 42, -2 to 35 °C.
 * Source: UNESCO Technical Papers in Marine Science 44 (1983), p. 6-12. Check: x 1 at 15 °C is 35.
 */
export const pss78Salinity = (x: number, t: number): number =>
  0.008 +
  x * (-0.1692 + x * (25.3851 + x * (14.0941 + x * (-7.0261 + x * 2.7081)))) +
  warmth(t) * (0.0005 + x * (-0.0056 + x * (-0.0066 + x * (-0.0375 + x * (0.0636 - x * 0.0144)))));

const pss78Slope = (x: number, t: number): number =>
  -0.1692 +
  x * (2 * 25.3851 + x * (3 * 14.0941 + x * (4 * -7.0261 + x * 5 * 2.7081))) +
  warmth(t) * (-0.0056 + x * (2 * -0.0066 + x * (3 * -0.0375 + x * (4 * 0.0636 - x * 5 * 0.0144))));

/** Hill, Dauphinee and Woods 1986, before the factor that makes it meet PSS-78. */
const unscaledHill = (x: number, t: number): number => {
  const rt400 = 400 * x * x;
  const rt100Root = 10 * x;
  return (
    pss78Salinity(x, t) -
    0.008 / (1 + rt400 * (1.5 + rt400)) -
    (0.0005 * warmth(t)) / (1 + rt100Root * (1 + rt100Root * (1 + rt100Root)))
  );
};

/** The factor of TEOS-10 (GSW-C): without it salinity would jump at 2. */
const factorToMeetAtTwo = (t: number): number => 2 / unscaledHill(pss78Root(2, t), t);

/**
 * Practical salinity of 0 to 2, where PSS-78 does not hold. For numbers already checked.
 * Source: Hill, Dauphinee and Woods 1986, as coded in GSW-C. Check: x 0.137988 at 20.0048 °C is 0.5000.
 */
export const hillSalinity = (x: number, t: number): number => unscaledHill(x, t) * factorToMeetAtTwo(t);

/**
 * x from a PSS-78 salinity of 2 to 50, by Newton's method: four or five steps; the bound guards only against slips.
 * Source: PSS-78, turned round. Check: 35 at 15 °C is 1.
 */
export const pss78Root = (salinity: number, t: number): number => {
  let x = Math.sqrt(salinity / 35);
  for (let turn = 0; turn < 20; turn += 1) {
    const step = (pss78Salinity(x, t) - salinity) / pss78Slope(x, t);
    x -= step;
    if (Math.abs(step) < 1e-12) return x;
  }
  throw new Error(`No conductivity ratio found for salinity ${salinity} at ${t} °C`);
};

/**
 * x from a salinity of 0.01 to 2, by halving: the curve dips below zero next to pure water, where Newton could stray.
 * Source: Hill, Dauphinee and Woods 1986, turned round. Check: 0.5 at 20.0048 °C is 0.137988.
 */
export const hillRoot = (salinity: number, t: number): number => {
  const wanted = salinity / factorToMeetAtTwo(t);
  let low = 0;
  let high = pss78Root(2, t);
  for (let turn = 0; turn < 52; turn += 1) {
    const middle = (low + high) / 2;
    if (unscaledHill(middle, t) < wanted) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
};
