import { type Answer, type Refusal, refuse } from '../answer.js';
import { ok } from '../result.js';
import { solubilityMgL } from './oxygen.js';
import { ATMOSPHERE_KPA, OXYGEN_MG_L, outside, SALINITY, TEMPERATURE_C } from './range.js';

/**
 * An oxygen probe feels the pressure of oxygen, which is saturation; the meter turns it into mg/L with the salinity it
 * has been set to. Set to fresh water in seawater it shows too much. Saturation in % is right whatever the setting.
 */
type MeterInWater = { readonly meterSalinity: number; readonly salinity: number; readonly temperatureC: number };

/**
 * Oxygen, mg/L, from what a meter with a wrong salinity setting shows.
 * Answers for 0 to 50 mg/L shown, salinity 0 to 50, -2 to 45 °C. Source: solubility as in oxygen.ts.
 * Check value: 9.091 shown with setting 0 at salinity 35 and 20 °C is 7.395 mg/L.
 */
export const oxygenMgLFromMeter = ({ shownMgL, ...meter }: MeterInWater & { readonly shownMgL: number }): Answer => {
  const refusal = outside('shownMgL', shownMgL, OXYGEN_MG_L) ?? outsideMeter(meter);
  return refusal === undefined ? ok(shownMgL / shownPerTrue(meter)) : refuse(refusal);
};

/**
 * By how many % of the true mg/L a meter shows too much (negative: too little) for its salinity setting.
 * Answers for salinity 0 to 50 and -2 to 45 °C. Source: solubility as in oxygen.ts.
 * Check value: setting 0 at salinity 30 and 24 °C is 18.74 %.
 */
export const oxygenMeterErrorPct = (meter: MeterInWater): Answer => {
  const refusal = outsideMeter(meter);
  return refusal === undefined ? ok(100 * (shownPerTrue(meter) - 1)) : refuse(refusal);
};

const outsideMeter = ({ meterSalinity, salinity, temperatureC }: MeterInWater): Refusal | undefined =>
  outside('meterSalinity', meterSalinity, SALINITY) ??
  outside('salinity', salinity, SALINITY) ??
  outside('temperatureC', temperatureC, TEMPERATURE_C);

/** At one atmosphere: air pressure cancels but for the small difference of the vapour pressures. */
const shownPerTrue = ({ meterSalinity, salinity, temperatureC }: MeterInWater): number =>
  solubilityMgL({ salinity: meterSalinity, temperatureC, pressureKpa: ATMOSPHERE_KPA }) /
  solubilityMgL({ salinity, temperatureC, pressureKpa: ATMOSPHERE_KPA });
