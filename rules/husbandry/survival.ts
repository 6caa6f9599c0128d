import { type Answer, impossible, refusalFor, refuse } from '../answer.js';
import { ok } from '../result.js';
import { wilsonInterval95 } from './confidence.js';
import { ANIMALS, DAYS, type Range } from './range.js';

export type SurvivalOptions = {
  readonly startCount: number;
  readonly endCount: number;
  /** Taken out on purpose at the start of the period: culls, samples and sales are not deaths. */
  readonly removedCount: number;
};

const COUNTS = { startCount: ANIMALS, endCount: [0, 1e12], removedCount: [0, 1e12] } satisfies Record<string, Range>;

/**
 * Share alive at the end, 0 to 1. S = end / (start − removed).
 * Answers for 1 to 1e12 at the start, 0 to 1e12 at the end and removed.
 * Check value: 10 to 6.2 million: 0.62. Source: arithmetic.
 */
export const survivalFraction = (stock: SurvivalOptions): Answer => {
  const { startCount, endCount, removedCount } = stock;
  const refusal = refusalFor({ startCount, endCount, removedCount }, COUNTS);
  if (refusal !== undefined) return refuse(refusal);
  const left = startCount - removedCount;
  if (left <= 0) return impossible('all-removed', { startCount, removedCount });
  if (endCount > left) return impossible('more-than-there-were', { endCount, left });
  return ok(endCount / left);
};

export type Mortality = {
  readonly survivalFraction: number;
  readonly mortalityRatePerDay: number;
  readonly dailyMortalityFraction: number;
};

/**
 * Instantaneous mortality Z = −ln(S)/t per day, and the share that dies in a day, 1 − e^−Z. With no survivor there is no
 * rate.
 * Answers for the ranges above and 0.001 to 10,000 days.
 * Check value: 10 to 6.2 million in 6 days: 0.0797 per day; with 1.5 million culled first 0.0526. Source: arithmetic.
 */
export const mortality = (stock: SurvivalOptions & { readonly days: number }): Answer<Mortality> => {
  const refusal = refusalFor({ days: stock.days }, { days: DAYS });
  if (refusal !== undefined) return refuse(refusal);
  const survival = survivalFraction(stock);
  if (!survival.ok) return survival;
  if (survival.value === 0) return impossible('none-left');
  const mortalityRatePerDay = Math.max(0, -Math.log(survival.value)) / stock.days;
  return ok({
    survivalFraction: survival.value,
    mortalityRatePerDay,
    dailyMortalityFraction: -Math.expm1(-mortalityRatePerDay),
  });
};

const SAMPLE = { dead: [0, 1e9], examined: [1, 1e9] } satisfies Record<string, Range>;

export type DeadFraction = { readonly fraction: number; readonly lowFraction: number; readonly highFraction: number };

/**
 * Share dead in a sample, with its 95 % interval (Wilson).
 * Answers for 0 to 1e9 dead among 1 to 1e9 examined.
 * Check value: 18 of 150: 0.12 (0.077 to 0.182). Source: Wilson 1927 (from memory).
 */
export const deadFraction = (sample: { readonly dead: number; readonly examined: number }): Answer<DeadFraction> => {
  const { dead, examined } = sample;
  const refusal = refusalFor({ dead, examined }, SAMPLE);
  if (refusal !== undefined) return refuse(refusal);
  if (dead > examined) return impossible('more-dead-than-examined', { dead, examined });
  const { low, high } = wilsonInterval95(dead, examined);
  return ok({ fraction: dead / examined, lowFraction: low, highFraction: high });
};

/**
 * What no dead at all can say: with 95 % confidence fewer than this share are dead, 1 − 0.05^(1/n), and the rule of
 * three that comes close to it.
 * Answers for 1 to 1e9 examined.
 * Check value: 0 of 200: 0.0149 and 0.015. Source: arithmetic.
 */
export const noneDeadFraction = (sample: {
  readonly examined: number;
}): Answer<{ readonly highFraction: number; readonly ruleOfThreeFraction: number }> => {
  const { examined } = sample;
  const refusal = refusalFor({ examined }, { examined: SAMPLE.examined });
  if (refusal !== undefined) return refuse(refusal);
  return ok({ highFraction: -Math.expm1(Math.log(0.05) / examined), ruleOfThreeFraction: Math.min(1, 3 / examined) });
};
