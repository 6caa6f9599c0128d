/** A column of doubles as whole numbers: `value = whole × step / 10^digits`, beside those that are not of this scale. */
export type Scaled = {
  /** Widened from a 32-bit float, as CBOR packs often are: the value is the nearest such float. */
  readonly single: boolean;
  readonly digits: number;
  /** Of every reading; one of those that are odd has its predecessor's. */
  readonly wholes: Float64Array;
  /** Places of the values that have no such whole number: minus zero, a long decimal. */
  readonly odd: readonly number[];
};

const MOST_DIGITS = 9;
/** Leaves room for the forecasts' sixteenths within 2^53. */
const LARGEST_WHOLE = 2 ** 46;
/** With more than this share of odd ones another scale, or none, is better. */
const ODD_SHARE = 1 / 16;

/** The fewest decimals that nearly all of the values have, exactly; undefined when there is no such scale. */
export const scaleOf = (values: Float64Array): Scaled | undefined => {
  for (const single of [false, true]) {
    for (let digits = 0; digits <= MOST_DIGITS; digits += 1) {
      const scaled = scaledBy(values, digits, single);
      if (scaled !== undefined) return scaled;
    }
  }
  return undefined;
};

const scaledBy = (values: Float64Array, digits: number, single: boolean): Scaled | undefined => {
  const power = 10 ** digits;
  const wholes = new Float64Array(values.length);
  const odd: number[] = [];
  const most = values.length * ODD_SHARE;
  let before = 0;
  for (let n = 0; n < values.length; n += 1) {
    const value = values[n] ?? 0;
    // Adding zero takes the sign from minus zero, which is then odd.
    const whole = Math.round(value * power) + 0;
    if (Math.abs(whole) <= LARGEST_WHOLE && Object.is(doubleOf(whole, power, single), value)) before = whole;
    else if (odd.push(n) > most) return undefined;
    wholes[n] = before;
  }
  return { single, digits, wholes, odd };
};

const doubleOf = (whole: number, power: number, single: boolean): number =>
  single ? Math.fround(whole / power) : whole / power;

export type Scale = { readonly first: number; readonly step: number } & Pick<Scaled, 'single' | 'digits'>;

/** The doubles of so many steps from the first. */
export const unscaled = (steps: Float64Array, { first, step, single, digits }: Scale): Float64Array => {
  const power = 10 ** digits;
  const values = new Float64Array(steps.length);
  for (let n = 0; n < steps.length; n += 1) values[n] = doubleOf(first + (steps[n] ?? 0) * step, power, single);
  return values;
};

/** The greatest whole number of which all differences from the first are multiples: 625 for steps of 0.0625; 0 for a constant. */
export const stepOf = (wholes: Float64Array): number => {
  const first = wholes[0] ?? 0;
  let step = 0;
  for (let n = 1; n < wholes.length && step !== 1; n += 1) step = divisor(step, Math.abs((wholes[n] ?? 0) - first));
  return step;
};

const divisor = (a: number, b: number): number => {
  let [large, small] = [a, b];
  while (small > 0) [large, small] = [small, large % small];
  return large;
};
