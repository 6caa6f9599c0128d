import { type Answer, type Refusal, refusalFor, refuse } from '../answer.js';
import { ok } from '../result.js';
import { type Interval, refusalForInterval } from '../statistics/interval.js';
import { type HoursLeft, hoursLeftFrom, NEVER, type Reach, reachIn } from './hours-left.js';
import { BALANCE_RANGES, type OxygenBalance, reachOfOxygen } from './oxygen-budget.js';

/** A tank whose air or flow has stopped, or may stop: what is known, with its range. Take `exactly(0)` for what is off. */
export type OxygenOutlook = {
  /** The reading with the accuracy of the probe. */
  readonly oxygenMgL: Interval;
  readonly solubilityMgL: number;
  readonly reaerationPerH: Interval;
  readonly exchangePerH: number;
  readonly inflowOxygenMgL: number;
  readonly uptakeMgLPerH: Interval;
};

export const COURSES = ['soonest', 'likely', 'latest'] as const;
export type Course = (typeof COURSES)[number];

/**
 * Hours left until the oxygen is down to a limit, mg/L, over the range of oxygen, uptake and reaeration together.
 * All at their bad ends at once: the soonest is sooner than a real tank would be, never later than its ranges allow.
 * Answers for the ranges of oxygen-budget.ts. Source: its mass balance.
 * Check: the worked tank of tests/conformance/oxygen-budget.test.ts, sealed, 9.7816 h to 4 mg/L.
 */
export const hoursOfOxygenLeft = ({
  limitMgL,
  ...outlook
}: OxygenOutlook & { readonly limitMgL: number }): Answer<HoursLeft> => {
  const refusal = refusalForOutlook(outlook) ?? refusalFor({ limitMgL }, BALANCE_RANGES);
  if (refusal !== undefined) return refuse(refusal);
  const [soonest, likely, latest] = COURSES.map((course) => reachOnCourse(outlook, limitMgL, course));
  return ok(hoursLeftFrom({ soonest: soonest ?? NEVER, likely: likely ?? NEVER, latest: latest ?? NEVER }));
};

/**
 * The first number outside the ranges of oxygen-budget.ts, or the first range out of order.
 * Source: as there. Check: an uptake of -1 mg/L/h is refused.
 */
export const refusalForOutlook = (outlook: OxygenOutlook): Refusal | undefined => {
  const { oxygenMgL, reaerationPerH, uptakeMgLPerH, ...rest } = outlook;
  return (
    refusalFor(rest, BALANCE_RANGES) ??
    refusalForInterval('oxygenMgL', oxygenMgL, BALANCE_RANGES.oxygenMgL) ??
    refusalForInterval('reaerationPerH', reaerationPerH, BALANCE_RANGES.reaerationPerH) ??
    refusalForInterval('uptakeMgLPerH', uptakeMgLPerH, BALANCE_RANGES.uptakeMgLPerH)
  );
};

/**
 * Hours until the oxygen has fallen to the limit on one course; 0 when it is there. For numbers already checked.
 * Source: mass balance. Check: the worked tank with an uptake known within a factor of 2, soonest: 4.8908 h.
 */
export const reachOnCourse = (outlook: OxygenOutlook, limitMgL: number, course: Course): Reach => {
  const ends = { soonest: ['low', 'high'], likely: ['mid', 'mid'], latest: ['high', 'low'] } as const;
  const [low, high] = ends[course];
  const tank = { ...outlook, oxygenMgL: outlook.oxygenMgL[low], uptakeMgLPerH: outlook.uptakeMgLPerH[high] };
  if (tank.oxygenMgL <= limitMgL) return reachIn(0);
  // Air takes oxygen out of water above saturation and brings it below: the bad end of its range changes sides there.
  const above = { ...tank, reaerationPerH: outlook.reaerationPerH[high] };
  const below = { ...tank, reaerationPerH: outlook.reaerationPerH[low] };
  return inTwoParts(above, below, limitMgL);
};

const inTwoParts = (above: OxygenBalance, below: OxygenBalance, limitMgL: number): Reach => {
  const { oxygenMgL, solubilityMgL } = above;
  if (oxygenMgL <= solubilityMgL) return reachOfOxygen(below, limitMgL);
  if (limitMgL >= solubilityMgL) return reachOfOxygen(above, limitMgL);
  const first = reachOfOxygen(above, solubilityMgL);
  const second = reachOfOxygen({ ...below, oxygenMgL: solubilityMgL }, limitMgL);
  return first.kind === 'never' || second.kind === 'never' ? NEVER : reachIn(first.hours + second.hours);
};

/**
 * The same from the slope as measured since the failure, (C - limit) / (-dC/dt): in the first hours it takes over from
 * the budget; show both. A slope that is not falling gives "never" on this evidence alone.
 * Answers for 0 to 50 mg/L and slopes of -10,000 to 10,000 mg/L/h.
 * Source: arithmetic. Check: 6.6 mg/L falling by 1.2 mg/L/h, within 0.8 and 1.5, to 4.2: 2 h, within 1.6 and 3.
 */
export const hoursOfOxygenLeftFromSlope = (tank: {
  readonly oxygenMgL: Interval;
  readonly slopeMgLPerH: Interval;
  readonly limitMgL: number;
}): Answer<HoursLeft> => {
  const refusal =
    refusalForInterval('oxygenMgL', tank.oxygenMgL, BALANCE_RANGES.oxygenMgL) ??
    refusalForInterval('slopeMgLPerH', tank.slopeMgLPerH, [-10_000, 10_000]) ??
    refusalFor({ limitMgL: tank.limitMgL }, BALANCE_RANGES);
  if (refusal !== undefined) return refuse(refusal);
  const along = (end: keyof Interval): Reach =>
    reachOnSlope(tank.oxygenMgL[end], tank.slopeMgLPerH[end], tank.limitMgL);
  return ok(hoursLeftFrom({ soonest: along('low'), likely: along('mid'), latest: along('high') }));
};

/**
 * Hours down a straight slope to the limit; 0 when it is there. For numbers already checked.
 * Source: arithmetic. Check: 6.6 mg/L falling by 1.2 mg/L/h to 4.2: 2 h.
 */
export const reachOnSlope = (oxygenMgL: number, slopeMgLPerH: number, limitMgL: number): Reach => {
  if (oxygenMgL <= limitMgL) return reachIn(0);
  return slopeMgLPerH < 0 ? reachIn((oxygenMgL - limitMgL) / -slopeMgLPerH) : NEVER;
};
