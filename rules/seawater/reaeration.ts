import { type Answer, impossible, refusalFor, refuse } from '../answer.js';
import { ok } from '../result.js';
import type { Standing } from '../stage/standing.js';
import type { Interval } from '../statistics/interval.js';
import { BALANCE_RANGES } from './oxygen-budget.js';
import { OXYGEN_MG_L, TEMPERATURE_C } from './range.js';

/** Factor per °C. Common in river and wastewater practice; no hatchery source. */
export const REAERATION_THETA = { value: 1.024, standing: 'practice' } as const satisfies {
  readonly value: number;
  readonly standing: Standing;
};

/** Exchange through a still surface of a tank 0.3 to 1 m deep, per hour at 20 °C: the order of magnitude only. */
export const STILL_SURFACE_PER_H = {
  value: { low: 0.02, mid: 0.05, high: 0.2 },
  standing: 'practice',
} as const satisfies {
  readonly value: Interval;
  readonly standing: Standing;
};

/**
 * kLa at a temperature from kLa at 20 °C, both per hour. Answers for 0 to 1000 per hour, -2 to 45 °C, theta 1 to 1.2.
 * Source: common in river and wastewater practice; no hatchery source. Check: 2 at 20 °C gives 1.776357 at 15 °C.
 */
export const reaerationAtTemperature = ({
  reaerationPerH20,
  temperatureC,
  theta = REAERATION_THETA.value,
}: {
  readonly reaerationPerH20: number;
  readonly temperatureC: number;
  readonly theta?: number;
}): Answer => {
  const ranges = {
    reaerationPerH20: BALANCE_RANGES.reaerationPerH,
    temperatureC: TEMPERATURE_C,
    theta: [1, 1.2],
  } as const;
  const refusal = refusalFor({ reaerationPerH20, temperatureC, theta }, ranges);
  return refusal === undefined ? ok(reaerationPerH20 * theta ** (temperatureC - 20)) : refuse(refusal);
};

/**
 * kLa per hour from two readings in the tank without animals, once for each setting of the air: ln((Cs - C1)/(Cs - C2))
 * / dt. Both readings on one side of saturation, the second nearer to it.
 * Answers for 0 to 50 mg/L, 1 to 25 mg/L at saturation, 0.001 to 1000 h. Source: mass balance.
 * Check: 4.0 to 6.0 mg/L in 0.5 h with 7.4 at saturation gives 1.774606.
 */
export const reaerationFromTwoReadings = (readings: {
  readonly solubilityMgL: number;
  readonly firstMgL: number;
  readonly secondMgL: number;
  readonly hours: number;
}): Answer => {
  const refusal = refusalFor(readings, {
    solubilityMgL: BALANCE_RANGES.solubilityMgL,
    firstMgL: OXYGEN_MG_L,
    secondMgL: OXYGEN_MG_L,
    hours: [0.001, 1000],
  });
  if (refusal !== undefined) return refuse(refusal);
  const { solubilityMgL, firstMgL, secondMgL, hours } = readings;
  const ratio = (solubilityMgL - firstMgL) / (solubilityMgL - secondMgL);
  // A second reading at saturation says only that it was fast: the ratio has no end there.
  if (!(ratio > 1) || !Number.isFinite(ratio)) return impossible('not-nearing-saturation', { firstMgL, secondMgL });
  return ok(Math.log(ratio) / hours);
};
