import { type Answer, impossible, refuse } from '../answer.js';
import { ok } from '../result.js';
import { hillRoot, hillSalinity, pss78Root, pss78Salinity } from './conductivity-ratio.js';
import { outside, type Range, SALINITY, TEMPERATURE_C } from './range.js';
import { IPTS68_PER_ITS90 } from './temperature-scale.js';

/** Conductivity of seawater of salinity 35 at 15 °C (t68), mS/cm. Source: Culkin and Smith 1980, as used by TEOS-10. */
const STANDARD_MS_CM = 42.914;

export const CONDUCTIVITY_MS_CM: Range = [0, 150];

/** Below this (tap water has five times as much and more: common practice, no source) a probe is dry or in pure water. */
const NEAR_ZERO_MS_CM = 0.01;

/** Where the curve below salinity 2 can be turned round; nearer to pure water it is not single-valued. */
const INVERTIBLE_SALINITY: Range = [0.01, 50];

/** Pressure of the water above the probe: nothing at the surface, about 1 dbar for each metre. PSS-78 holds to 10 km. */
const SEA_PRESSURE_DBAR: Range = [0, 10000];

/** PSS-78 ends here; Hill and others 1986 goes on to pure water. */
const PSS78_LEAST = 2;

/**
 * Practical salinity (PSS-78) from conductivity in mS/cm at the water's own temperature in °C (ITS-90).
 * `pressureDbar` is the pressure of the water above the probe; in a tank it does not matter and may be left out.
 * Answers for 0.01 to 150 mS/cm, -2 to 45 °C, and a salinity of 0 to 50; fitted for -2 to 35 °C and 0 to 42.
 * Sources: UNESCO Technical Papers in Marine Science 44 (1983), p. 6-12; below 2 the extension of Hill, Dauphinee and
 * Woods 1986 with the factor of TEOS-10 that lets both meet at 2.
 * Check value: 47.9180440285 mS/cm at 20 °C is salinity 35 (GSW-Python 3.6.16).
 */
export const practicalSalinityFromConductivity = ({
  conductivityMsCm,
  temperatureC,
  pressureDbar = 0,
}: {
  readonly conductivityMsCm: number;
  readonly temperatureC: number;
  readonly pressureDbar?: number | undefined;
}): Answer => {
  const refusal =
    outside('conductivityMsCm', conductivityMsCm, CONDUCTIVITY_MS_CM) ??
    outside('temperatureC', temperatureC, TEMPERATURE_C) ??
    outside('pressureDbar', pressureDbar, SEA_PRESSURE_DBAR);
  if (refusal !== undefined) return refuse(refusal);
  if (conductivityMsCm < NEAR_ZERO_MS_CM) return impossible('conductivity-near-zero', { conductivityMsCm });

  const t = temperatureC * IPTS68_PER_ITS90;
  const ratio = conductivityMsCm / STANDARD_MS_CM;
  const deep = 1 + pressureTerm(pressureDbar) / (1 + t * (D1 + t * D2) + (D3 + D4 * t) * ratio);
  const root = Math.sqrt(ratio / (deep * warmRatio(t)));
  const pss78 = pss78Salinity(root, t);
  const salinity = pss78 < PSS78_LEAST ? hillSalinity(root, t) : pss78;

  const beyond = outside('salinity', salinity, SALINITY);
  return beyond === undefined ? ok(salinity) : refuse(beyond);
};

/**
 * Conductivity in mS/cm at the water's own temperature in °C (ITS-90) from practical salinity: the inverse.
 * Answers for salinity 0.01 to 50, -2 to 45 °C. Sources: as above.
 * Check value: salinity 35 at 15 °C is 42.9175 mS/cm (GSW-Python 3.6.16).
 */
export const conductivityFromPracticalSalinity = ({
  salinity,
  temperatureC,
  pressureDbar = 0,
}: {
  readonly salinity: number;
  readonly temperatureC: number;
  readonly pressureDbar?: number | undefined;
}): Answer => {
  const refusal =
    outside('salinity', salinity, INVERTIBLE_SALINITY) ??
    outside('temperatureC', temperatureC, TEMPERATURE_C) ??
    outside('pressureDbar', pressureDbar, SEA_PRESSURE_DBAR);
  if (refusal !== undefined) return refuse(refusal);

  const t = temperatureC * IPTS68_PER_ITS90;
  const root = salinity < PSS78_LEAST ? hillRoot(salinity, t) : pss78Root(salinity, t);
  return ok(STANDARD_MS_CM * ratioUnderPressure(warmRatio(t) * root * root, t, pressureDbar));
};

// The names of the coefficients are those of UNESCO 44, p. 9.
const D1 = 3.426e-2;
const D2 = 4.464e-4;
const D3 = 4.215e-1;
const D4 = -3.107e-3;

/**
 * rt: conductivity of salinity 35 at t over the same at 15 °C. Check value: 1.1164927 at 20 °C (UNESCO 44, p. 9).
 * As printed it is not quite 1 at 15 °C: 42.914 mS/cm there is salinity 34.99999992, not 35.
 */
const warmRatio = (t: number): number =>
  0.6766097 + t * (2.00564e-2 + t * (1.104259e-4 + t * (-6.9698e-7 + t * 1.0031e-9)));

const pressureTerm = (dbar: number): number => dbar * (2.07e-5 + dbar * (-6.37e-10 + dbar * 3.989e-15));

/**
 * The ratio R under pressure from the ratio q = Rt rt without: the positive root of
 * a R² + (b - a q) R - q (b + c) = 0 (UNESCO 44, p. 8), written so that nothing cancels.
 */
const ratioUnderPressure = (q: number, t: number, dbar: number): number => {
  if (dbar === 0) return q;
  const a = D3 + D4 * t;
  const b = 1 + t * (D1 + t * D2);
  const last = q * (b + pressureTerm(dbar));
  const middle = b - a * q;
  return (2 * last) / (middle + Math.sqrt(middle * middle + 4 * a * last));
};
