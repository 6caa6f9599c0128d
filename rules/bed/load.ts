import { type Answer, refusalFor, refuse } from '../answer.js';
import { ok } from '../result.js';
import { NEVER, type Reach, reachIn } from '../seawater/hours-left.js';

/** Organic carbon on the bed between cleanings: dW/dt = supply - decay W. */
export type OrganicLoad = {
  /** mmol of carbon per m2 now, or just after the cleaning. */
  readonly loadMmolCM2: number;
  readonly supplyMmolCM2Day: number;
  readonly decayPerDay: number;
};

export const LOAD_RANGES = {
  loadMmolCM2: [0, 1e6],
  supplyMmolCM2Day: [0, 1e5],
  decayPerDay: [0.001, 10],
  days: [0, 3650],
  criticalMmolCM2: [0, 1e8],
  removedShare: [0, 1],
} as const;

/**
 * Load after some days, mmol C/m2. Answers for a load of 0 to 1e6 mmol C/m2, a supply of 0 to 1e5 per day, a decay of
 * 0.001 to 10 per day, 0 to 3650 days.
 * Source: mass balance. Check: from 0, supply 15, decay 0.16, after 365 days: 93.75.
 */
export const loadAfterMmolCM2 = ({ days, ...load }: OrganicLoad & { readonly days: number }): Answer => {
  const refusal = refusalFor({ ...load, days }, LOAD_RANGES);
  return refusal === undefined ? ok(loadAfter(load, days)) : refuse(refusal);
};

/** The same for numbers already checked. Source: mass balance. Check: the case above after 6.849327 days: 62.4149. */
export const loadAfter = ({ loadMmolCM2, supplyMmolCM2Day, decayPerDay }: OrganicLoad, days: number): number => {
  const steady = supplyMmolCM2Day / decayPerDay;
  return steady + (loadMmolCM2 - steady) * Math.exp(-decayPerDay * days);
};

/**
 * Days until the load has risen to a critical one; "never" when it settles below. Answers for 0 to 1e8 mmol C/m2 and
 * the ranges above.
 * Source: mass balance. Check: from 0, supply 15, decay 0.16, to 62.4149: 6.84933 days.
 */
export const daysUntilLoad = ({
  criticalMmolCM2,
  ...load
}: OrganicLoad & { readonly criticalMmolCM2: number }): Answer<DaysReach> => {
  const refusal = refusalFor({ ...load, criticalMmolCM2 }, LOAD_RANGES);
  if (refusal !== undefined) return refuse(refusal);
  const reach = reachOfLoad(load, criticalMmolCM2);
  return ok(reach.kind === 'never' ? { kind: 'never' } : { kind: 'reaches', days: reach.hours / 24 });
};

export type DaysReach = { readonly kind: 'reaches'; readonly days: number } | { readonly kind: 'never' };

/**
 * Hours until the load has risen to a critical one, 0 when it is there. For numbers already checked.
 * Source: mass balance. Check: the case above to 62.4145: 164.382 h; to 93.75: never.
 */
export const reachOfLoad = (load: OrganicLoad, criticalMmolCM2: number): Reach => {
  const { loadMmolCM2, supplyMmolCM2Day, decayPerDay } = load;
  if (loadMmolCM2 >= criticalMmolCM2) return reachIn(0);
  const steady = supplyMmolCM2Day / decayPerDay;
  if (criticalMmolCM2 >= steady) return NEVER;
  return reachIn((-24 * Math.log((steady - criticalMmolCM2) / (steady - loadMmolCM2))) / decayPerDay);
};

/**
 * What siphoning leaves, mmol C/m2. Answers for a load of 0 to 1e6 and a share removed of 0 to 1.
 * Source: arithmetic. Check: 93.75 less 0.8 of it: 18.75.
 */
export const loadAfterCleaningMmolCM2 = (cleaning: {
  readonly loadMmolCM2: number;
  readonly removedShare: number;
}): Answer => {
  const refusal = refusalFor(cleaning, LOAD_RANGES);
  return refusal === undefined ? ok(cleaning.loadMmolCM2 * (1 - cleaning.removedShare)) : refuse(refusal);
};
