import { type Answer, impossible, refuse } from '../answer.js';
import { ok } from '../result.js';
import { outside, type Range, TEMPERATURE_C } from './range.js';
import {
  CONDUCTIVITY_MS_CM,
  conductivityFromPracticalSalinity,
  practicalSalinityFromConductivity,
} from './salinity.js';

/**
 * Many probes send conductivity already turned to 25 °C by a straight line, SC = C / (1 + a (t - 25)). The line has to be
 * undone with the probe's own slope and temperature before the salinity is computed: put in as if it were conductivity
 * at 25 °C, seawater of 35 and 10 °C would come out as 36.0 with a slope of 2 % per °C (TEOS-10).
 *
 * There is no default: the slope is a setting of each probe, and 1.91 taken for 2 costs half a unit of salinity at 15 °C.
 */
type Compensated = {
  readonly temperatureC: number;
  readonly compensationPctPerC: number;
  readonly pressureDbar?: number | undefined;
};

/** Slope that probes commonly come with, % per °C, to offer where a person sets one. Source: an instrument manual. */
export const USUAL_COMPENSATION_PCT_PER_C = 1.91;

/** 0 is a probe that does not compensate. Seawater of 35 itself changes by 1.85 (5 °C) to 1.99 (30 °C; both TEOS-10). */
const COMPENSATION_PCT_PER_C: Range = [0, 3];

/** A slope read off near 25 °C is all rounding (common practice, no source). */
const LEAST_DISTANCE_C = 5;

/**
 * Practical salinity from specific conductance at 25 °C in mS/cm, the water's temperature in °C (ITS-90) and the
 * probe's slope in % per °C. Answers for 0 to 150 mS/cm, 0 to 3 % per °C, and as `practicalSalinityFromConductivity`
 * does. Probes that compensate along a curve (ISO 7888, for fresh water) cannot be undone like this.
 * Source: the straight line above, undone, then PSS-78 as in salinity.ts.
 * Check value: 52.977384 mS/cm at 20 °C with 1.91 % per °C is salinity 35.
 */
export const salinityFromSpecificConductance = ({
  specificConductanceMsCm,
  temperatureC,
  compensationPctPerC,
  pressureDbar,
}: Compensated & { readonly specificConductanceMsCm: number }): Answer => {
  const refusal =
    outside('specificConductanceMsCm', specificConductanceMsCm, CONDUCTIVITY_MS_CM) ??
    outsideCompensation(temperatureC, compensationPctPerC);
  if (refusal !== undefined) return refuse(refusal);
  const conductivityMsCm = specificConductanceMsCm * shareOf25C(temperatureC, compensationPctPerC);
  return practicalSalinityFromConductivity({ conductivityMsCm, temperatureC, pressureDbar });
};

/**
 * Specific conductance at 25 °C in mS/cm as the probe would send it: the inverse of the above. Answers for salinity
 * 0.01 to 50, -2 to 45 °C, 0 to 3 % per °C. Source: as above.
 * Check value: salinity 35 at 20 °C with 1.91 % per °C is 52.977384 mS/cm.
 */
export const specificConductanceFromSalinity = ({
  salinity,
  temperatureC,
  compensationPctPerC,
  pressureDbar,
}: Compensated & { readonly salinity: number }): Answer => {
  const refusal = outsideCompensation(temperatureC, compensationPctPerC);
  if (refusal !== undefined) return refuse(refusal);
  const conductivity = conductivityFromPracticalSalinity({ salinity, temperatureC, pressureDbar });
  return conductivity.ok ? ok(conductivity.value / shareOf25C(temperatureC, compensationPctPerC)) : conductivity;
};

/**
 * The slope of a probe that shows both values, % per °C, from one reading of each at least 5 °C away from 25 °C.
 * Answers for 0.01 to 150 mS/cm, -2 to 45 °C and a result of 0 to 3 % per °C. Source: the straight line above.
 * Check value: 47.9180 and 52.9774 mS/cm at 20 °C are 1.91 % per °C.
 */
export const compensationPctPerCFromReadings = ({
  conductivityMsCm,
  specificConductanceMsCm,
  temperatureC,
}: {
  readonly conductivityMsCm: number;
  readonly specificConductanceMsCm: number;
  readonly temperatureC: number;
}): Answer => {
  const refusal =
    outside('conductivityMsCm', conductivityMsCm, MEASURABLE_MS_CM) ??
    outside('specificConductanceMsCm', specificConductanceMsCm, MEASURABLE_MS_CM) ??
    outside('temperatureC', temperatureC, TEMPERATURE_C);
  if (refusal !== undefined) return refuse(refusal);
  if (Math.abs(temperatureC - 25) < LEAST_DISTANCE_C) return impossible('too-near-25-c', { temperatureC });
  const compensationPctPerC = (100 * (conductivityMsCm / specificConductanceMsCm - 1)) / (temperatureC - 25);
  const beyond = outside('compensationPctPerC', compensationPctPerC, COMPENSATION_PCT_PER_C);
  return beyond === undefined ? ok(compensationPctPerC) : refuse(beyond);
};

/** With less in the water than this the two readings do not tell a slope. */
const MEASURABLE_MS_CM: Range = [0.01, 150];

const outsideCompensation = (temperatureC: number, compensationPctPerC: number) =>
  outside('temperatureC', temperatureC, TEMPERATURE_C) ??
  outside('compensationPctPerC', compensationPctPerC, COMPENSATION_PCT_PER_C);

/** Never below 0.19 inside the ranges. */
const shareOf25C = (temperatureC: number, compensationPctPerC: number): number =>
  1 + (compensationPctPerC / 100) * (temperatureC - 25);
