import { type Answer, refusalFor, refuse } from '../answer.js';
import { ok } from '../result.js';

/** Fitted to 30 °C; up to 35 °C it answers with `beyondFit`. */
export const DIFFUSIVITY_RANGES = { temperatureC: [0, 35], salinity: [0, 42] } as const;
const FITTED_TO_C = 30;

export type Diffusivity = { readonly m2PerS: number; readonly beyondFit: boolean };

/**
 * Diffusivity of oxygen in seawater, m2/s, from °C and practical salinity.
 * Answers for 0 to 35 °C and salinity 0 to 42; fitted to 30 °C.
 * Source: Boudreau 1997, as coded in R marelac 2.1.11; other published formulas agree within about 10 %.
 * Check: salinity 35 at 20 °C, 1.968965e-9.
 */
export const oxygenDiffusivity = (water: {
  readonly temperatureC: number;
  readonly salinity: number;
}): Answer<Diffusivity> => {
  const refusal = refusalFor({ temperatureC: water.temperatureC, salinity: water.salinity }, DIFFUSIVITY_RANGES);
  if (refusal !== undefined) return refuse(refusal);
  return ok({ m2PerS: diffusivityM2PerS(water), beyondFit: water.temperatureC > FITTED_TO_C });
};

/** The same for numbers already checked. Source: as above. Check: salinity 35 at 20 °C, 1.968965e-9. */
export const diffusivityM2PerS = ({
  temperatureC,
  salinity,
}: {
  readonly temperatureC: number;
  readonly salinity: number;
}): number => {
  const fresh = viscosityCentipoise(temperatureC, 0);
  const inFreshWater = 0.2604 + (0.006383 * (temperatureC + 273.15)) / fresh;
  return inFreshWater * (fresh / viscosityCentipoise(temperatureC, salinity)) * 1e-9;
};

const PRESSURE_BAR = 1.013253;

/** Viscosity of seawater at one atmosphere, centipoise (Boudreau 1997). */
const viscosityCentipoise = (t: number, s: number): number =>
  1.791 -
  6.144e-2 * t +
  1.451e-3 * t ** 2 -
  1.6826e-5 * t ** 3 -
  1.529e-4 * PRESSURE_BAR +
  8.3885e-8 * PRESSURE_BAR ** 2 +
  2.4727e-3 * s +
  (6.0574e-6 * PRESSURE_BAR - 2.676e-9 * PRESSURE_BAR ** 2) * t +
  (4.8429e-5 * t - 4.7172e-6 * t ** 2 + 7.5986e-8 * t ** 3) * s;
