import { type Answer, refuse } from '../answer.js';
import { ok } from '../result.js';
import { outside, TEMPERATURE_C } from './range.js';

/**
 * Thermometers read ITS-90; the seawater equations were fitted on IPTS-68. Leaving the factor out costs 0.005 °C at
 * 20 °C, which is 0.004 in salinity. Source: the factor that TEOS-10 uses (GSW-C, `t68 = 1.00024 * t90`).
 */
export const IPTS68_PER_ITS90 = 1.00024;

/** °C on IPTS-68 from °C on ITS-90. Answers for -2 to 45 °C. Source: as above. Check value: 20 °C is 20.0048 °C. */
export const ipts68FromIts90 = ({ its90C }: { readonly its90C: number }): Answer => {
  const refusal = outside('its90C', its90C, TEMPERATURE_C);
  return refusal === undefined ? ok(its90C * IPTS68_PER_ITS90) : refuse(refusal);
};

/** °C on ITS-90 from °C on IPTS-68. Answers for -2 to 45 °C. Source: as above. Check value: 20.0048 °C is 20 °C. */
export const its90FromIpts68 = ({ ipts68C }: { readonly ipts68C: number }): Answer => {
  const refusal = outside('ipts68C', ipts68C, TEMPERATURE_C);
  return refusal === undefined ? ok(ipts68C / IPTS68_PER_ITS90) : refuse(refusal);
};
