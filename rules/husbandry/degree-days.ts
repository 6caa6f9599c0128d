import { type Answer, impossible, refusalFor, refuse } from '../answer.js';
import { ok } from '../result.js';
import { DAYS, refusalInList, TEMPERATURE_C } from './range.js';

export type RipeningObservation = { readonly temperatureC: number; readonly days: number };

/**
 * Threshold and total of degree-days from the days to ripeness at several steady temperatures: a straight line through
 * 1/days = (T − T0)/K.
 * Answers for -2 to 45 °C, two temperatures at least, and 0.001 to 10,000 days.
 * Check value: 27, 23, 19 days at 16, 19, 22 °C: 1.92 °C and 385 degree-days. Source: days to first ripe oocytes in the
 * Pacific oyster, Chávez-Villalba and others 2002, Aquaculture 214:115-130, abstract; the fit is least squares. Both
 * figures depend on the end-point that "ripe" means.
 */
export const degreeDayFit = ({
  observations,
}: {
  readonly observations: readonly RipeningObservation[];
}): Answer<{ readonly thresholdC: number; readonly degreeDays: number }> => {
  const temperatures = observations.map((observation) => observation.temperatureC);
  const refusal =
    refusalInList('temperatureC', temperatures, TEMPERATURE_C) ??
    refusalInList(
      'days',
      observations.map((observation) => observation.days),
      DAYS,
    );
  if (refusal !== undefined) return refuse(refusal);
  if (new Set(temperatures).size < 2) return impossible('one-temperature-only');
  const meanC = mean(temperatures);
  const meanRate = mean(observations.map(({ days }) => 1 / days));
  const spread = sum(temperatures.map((temperature) => (temperature - meanC) ** 2));
  const slope =
    sum(observations.map(({ temperatureC, days }) => (temperatureC - meanC) * (1 / days - meanRate))) / spread;
  if (!(slope > 0 && Number.isFinite(1 / slope))) return impossible('not-sooner-when-warmer');
  return ok({ thresholdC: meanC - meanRate / slope, degreeDays: 1 / slope });
};

export type WarmPeriod = { readonly days: number; readonly meanC: number };

/**
 * Degree-days so far, from periods with their mean: Σ days · max(0, T − T0); a cold day takes nothing away.
 * Answers for -2 to 45 °C and 0 to 10,000 days.
 * Check value: above 10.55 °C, 7 days each at 12, 14, 16 and 14 at 18 °C: 176.75. Source: arithmetic. Readings as they
 * come are better summed as they come: a mean hides the hours above the threshold.
 */
export const degreeDaySum = ({
  thresholdC,
  periods,
}: {
  readonly thresholdC: number;
  readonly periods: readonly WarmPeriod[];
}): Answer => {
  const refusal =
    refusalFor({ thresholdC }, { thresholdC: TEMPERATURE_C }) ??
    refusalInList(
      'days',
      periods.map((period) => period.days),
      [0, DAYS[1]],
    ) ??
    refusalInList(
      'meanC',
      periods.map((period) => period.meanC),
      TEMPERATURE_C,
    );
  if (refusal !== undefined) return refuse(refusal);
  return ok(sum(periods.map(({ days, meanC }) => days * Math.max(0, meanC - thresholdC))));
};

const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);

const mean = (values: readonly number[]): number => sum(values) / values.length;
