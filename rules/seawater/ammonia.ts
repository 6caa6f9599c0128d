import { type Answer, refuse } from '../answer.js';
import { ok } from '../result.js';
import { outside, type Range } from './range.js';

/**
 * The buffers that the pH probe was calibrated in. `nbs`: the ordinary ones (NBS/NIST, pH 4, 7, 10), the rule in a
 * hatchery. `total`: seawater buffers or a dye. One taken for the other is 20 to 28 % wrong in ammonia at pH 8.1.
 */
export type PhScale = 'nbs' | 'total';

const TEMPERATURE_C: Range = [0, 40];
const SALINITY: Range = [0, 40];
const PH: Range = [4, 11];

/** Below this salinity the seawater equation is not used. */
const SEAWATER_FROM = 5;

/**
 * Share of ammonia that is un-ionised (NH3, the poisonous part), 0 to 1, from pH, practical salinity and °C.
 * Multiply total ammonia nitrogen by it. 0.1 pH is 25 % in the result: show two figures.
 * Answers for pH 4 to 11, salinity 0 to 40, 0 to 40 °C; tested against published tables for pH 7.5 to 8.5, 10 to 25 °C.
 * Sources: on the NBS scale Bell and others 2008 from salinity 5, below it Emerson and others 1975 for fresh water (the
 * two differ by 6 % at 5 and 20 °C); on the total scale Clegg and Whitfield 1995.
 * Check value: pH 8.0, salinity 34, 20 °C is 0.0298 (Bower and Bidwell 1978), within 2.5 %.
 */
export const unionisedAmmoniaFraction = ({
  ph,
  salinity,
  temperatureC,
  phScale = 'nbs',
}: {
  readonly ph: number;
  readonly salinity: number;
  readonly temperatureC: number;
  readonly phScale?: PhScale | undefined;
}): Answer => {
  const refusal =
    outside('ph', ph, PH) ??
    outside('salinity', salinity, SALINITY) ??
    outside('temperatureC', temperatureC, TEMPERATURE_C);
  if (refusal !== undefined) return refuse(refusal);
  return ok(1 / (1 + 10 ** (ammoniumPka(phScale, salinity, temperatureC) - ph)));
};

const ammoniumPka = (phScale: PhScale, salinity: number, temperatureC: number): number => {
  if (phScale === 'total') return cleggWhitfieldPka(salinity, temperatureC);
  return salinity < SEAWATER_FROM ? emersonPka(temperatureC) : bellPka(salinity, temperatureC);
};

/** The temperature is in °C, not K as in one copy of the equation. Check value: 9.515642 at salinity 34, 20 °C. */
const bellPka = (salinity: number, temperatureC: number): number =>
  10.0423 - 0.0315536 * temperatureC + 0.003071 * salinity;

/** Check value: 9.402546 at 20 °C. */
const emersonPka = (temperatureC: number): number => 0.09018 + 2729.92 / (temperatureC + 273.15);

/** Moles per kilogram of seawater. Check value: 9.416787 at salinity 34, 20 °C. */
const cleggWhitfieldPka = (s: number, temperatureC: number): number => {
  const t = temperatureC + 273.15;
  const rootT = Math.sqrt(t);
  const rootS = Math.sqrt(s);
  return (
    9.244605 -
    2729.33 * (1 / 298.15 - 1 / t) +
    (0.04203362 - 11.24742 / t) * Math.sqrt(rootS) +
    (-13.6416 + 1.176949 * rootT - 0.02860785 * t + 545.4834 / t) * rootS +
    (-0.1462507 + 0.0090226468 * rootT - 0.0001471361 * t + 10.5425 / t) * s * rootS +
    (0.004669309 - 0.0001691742 * rootT - 0.5677934 / t) * s * s +
    (-2.354039e-5 + 0.009698623 / t) * s * s * rootS -
    Math.log10(1 - 0.001005 * s)
  );
};
