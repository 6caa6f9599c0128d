import { type Answer, impossible, refusalFor, refuse } from '../answer.js';
import { ok } from '../result.js';
import { DAYS, type Range } from './range.js';

const LENGTH_UM: Range = [1, 1_000_000];
const WEIGHT_MG: Range = [0.000_001, 1e9];

/**
 * Growth of larvae per day, and days from the second measurement to the length at setting, at that pace.
 * Answers for growing lengths of 1 to a million µm and 0.001 to 10,000 days.
 * Check value: 95 to 155 µm in 6 days, setting at 220: 10 µm/day, 6.5 days. Source: arithmetic.
 */
export const larvalGrowth = (larvae: {
  readonly firstLengthUm: number;
  readonly secondLengthUm: number;
  readonly days: number;
  readonly settingLengthUm: number;
}): Answer<{ readonly growthUmPerDay: number; readonly daysToSetting: number }> => {
  const { firstLengthUm, secondLengthUm, days, settingLengthUm } = larvae;
  const refusal = refusalFor(
    { firstLengthUm, secondLengthUm, days, settingLengthUm },
    { firstLengthUm: LENGTH_UM, secondLengthUm: LENGTH_UM, days: DAYS, settingLengthUm: LENGTH_UM },
  );
  if (refusal !== undefined) return refuse(refusal);
  if (secondLengthUm <= firstLengthUm) return impossible('no-growth', { first: firstLengthUm, second: secondLengthUm });
  if (secondLengthUm > settingLengthUm)
    return impossible('already-past', { now: secondLengthUm, line: settingLengthUm });
  const growthUmPerDay = (secondLengthUm - firstLengthUm) / days;
  return ok({ growthUmPerDay, daysToSetting: (settingLengthUm - secondLengthUm) / growthUmPerDay });
};

export type SpecificGrowth = {
  readonly specificGrowthPerDay: number;
  readonly growthPctPerDay: number;
  readonly doublingDays: number;
};

/**
 * Specific growth by weight, G = ln(W2/W1)/t, as per cent a day and as doubling time.
 * Answers for growing weights of 0.000001 to 1e9 mg and 0.001 to 10,000 days.
 * Check value: 0.3 to 1.9 mg in 14 days: 0.1318 per day, 14.1 %, doubling in 5.26 days. Source: arithmetic.
 */
export const specificGrowth = (seed: {
  readonly firstWeightMg: number;
  readonly secondWeightMg: number;
  readonly days: number;
}): Answer<SpecificGrowth> => {
  const { firstWeightMg, secondWeightMg, days } = seed;
  const refusal = refusalFor(
    { firstWeightMg, secondWeightMg, days },
    { firstWeightMg: WEIGHT_MG, secondWeightMg: WEIGHT_MG, days: DAYS },
  );
  if (refusal !== undefined) return refuse(refusal);
  if (secondWeightMg <= firstWeightMg) return impossible('no-growth', { first: firstWeightMg, second: secondWeightMg });
  const specificGrowthPerDay = Math.log(secondWeightMg / firstWeightMg) / days;
  const growthPctPerDay = 100 * Math.expm1(specificGrowthPerDay);
  if (!Number.isFinite(growthPctPerDay)) return impossible('too-fast-to-be-true');
  return ok({ specificGrowthPerDay, growthPctPerDay, doublingDays: Math.LN2 / specificGrowthPerDay });
};
