import { type Answer, refuse } from '../answer.js';
import { ok } from '../result.js';
import { outside, SALINITY, TEMPERATURE_C } from './range.js';
import { IPTS68_PER_ITS90 } from './temperature-scale.js';

/**
 * Density of seawater at one atmosphere, kg/m³, from practical salinity and °C (ITS-90).
 * Answers for salinity 0 to 50 and -2 to 45 °C; fitted for 0 to 42 and -2 to 40 °C.
 * Source: EOS-80, Millero and Poisson 1981, as printed in UNESCO Technical Papers in Marine Science 44 (1983), p. 15-19.
 * Check values (t68): salinity 35 at 5 °C 1027.67547, at 25 °C 1023.34306.
 */
export const seawaterDensityKgM3 = ({
  salinity,
  temperatureC,
}: {
  readonly salinity: number;
  readonly temperatureC: number;
}): Answer => {
  const refusal = outside('salinity', salinity, SALINITY) ?? outside('temperatureC', temperatureC, TEMPERATURE_C);
  if (refusal !== undefined) return refuse(refusal);
  return ok(eos80DensityKgM3({ salinity, ipts68C: temperatureC * IPTS68_PER_ITS90 }));
};

/**
 * The bare equation, kg/m³, for callers that have already refused what is out of range.
 * Source: as above. Check: salinity 35 at 5 °C (t68) is 1027.67547.
 */
export const eos80DensityKgM3 = ({
  salinity: s,
  ipts68C: t,
}: {
  readonly salinity: number;
  readonly ipts68C: number;
}): number => {
  const freshWater =
    999.842594 + t * (6.793952e-2 + t * (-9.09529e-3 + t * (1.001685e-4 + t * (-1.120083e-6 + t * 6.536332e-9))));
  const perSalt = 0.824493 + t * (-4.0899e-3 + t * (7.6438e-5 + t * (-8.2467e-7 + t * 5.3875e-9)));
  // 1.0227e-4, not the 1.0277e-4 that some copies of the equation carry.
  const perSaltToThreeHalves = -5.72466e-3 + t * (1.0227e-4 - t * 1.6546e-6);
  return freshWater + s * (perSalt + Math.sqrt(s) * perSaltToThreeHalves + s * 4.8314e-4);
};
