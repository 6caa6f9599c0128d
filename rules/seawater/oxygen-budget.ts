import { type Answer, impossible, refusalFor, refuse } from '../answer.js';
import { ok } from '../result.js';
import { NEVER, type Reach, reachIn } from './hours-left.js';
import { OXYGEN_MG_L } from './range.js';

/**
 * Oxygen in one well-mixed tank:
 *   dC/dt = reaeration (solubility - C) + exchange (inflow - C) - uptake
 * The closed forms below were checked against numerical integration of this equation; see tests/conformance.
 */
export type OxygenBalance = {
  readonly oxygenMgL: number;
  /** Oxygen at saturation for this water and air pressure; from oxygen.ts. */
  readonly solubilityMgL: number;
  /** kLa: air stones, or the still surface. 0 when sealed. */
  readonly reaerationPerH: number;
  /** Turnovers per hour: flow / volume. 0 when the flow is off. */
  readonly exchangePerH: number;
  /** Of no effect while `exchangePerH` is 0. */
  readonly inflowOxygenMgL: number;
  /** What animals, bed and water use. Taken as constant, also at low oxygen: that gives the shorter time. */
  readonly uptakeMgLPerH: number;
};

export const BALANCE_RANGES = {
  oxygenMgL: OXYGEN_MG_L,
  solubilityMgL: [1, 25],
  reaerationPerH: [0, 1000],
  exchangePerH: [0, 1000],
  inflowOxygenMgL: OXYGEN_MG_L,
  uptakeMgLPerH: [0, 10_000],
  hours: [0, 100_000],
  targetMgL: OXYGEN_MG_L,
  limitMgL: OXYGEN_MG_L,
  volumeL: [0.1, 1e8],
  flowLPerH: [0, 1e9],
  uptakeMgPerH: [0, 1e10],
} as const;

/**
 * Turnovers per hour, from L/h and L. Answers for 0 to 1e9 L/h and 0.1 to 1e8 L.
 * Source: arithmetic. Check: 120 L/h through 500 L is 0.24.
 */
export const exchangePerH = (tank: { readonly flowLPerH: number; readonly volumeL: number }): Answer => {
  const refusal = refusalFor(tank, BALANCE_RANGES);
  return refusal === undefined ? ok(tank.flowLPerH / tank.volumeL) : refuse(refusal);
};

/**
 * Uptake of all the animals and the bed, mg/h, spread over the water: mg/L/h.
 * Answers for 0 to 1e10 mg/h and 0.1 to 1e8 L. Source: arithmetic. Check: 154.638 mg/h in 500 L is 0.309276 mg/L/h.
 */
export const uptakeMgLPerH = (tank: { readonly uptakeMgPerH: number; readonly volumeL: number }): Answer => {
  const refusal = refusalFor(tank, BALANCE_RANGES);
  return refusal === undefined ? ok(tank.uptakeMgPerH / tank.volumeL) : refuse(refusal);
};

/**
 * Where the oxygen settles, mg/L; 0 when the uptake is more than air and flow can bring.
 * Answers for oxygen of 0 to 50 mg/L (1 to 25 at saturation), 0 to 1000 per hour of air and of flow, and an uptake of 0
 * to 10,000 mg/L/h. No answer without air and flow: then it does not settle.
 * Source: mass balance. Check: 7.394963 at saturation, reaeration 0.05, uptake 0.30927593: 1.20944.
 */
export const steadyOxygenMgL = (balance: OxygenBalance): Answer => {
  const refusal = refusalFor(balance, BALANCE_RANGES);
  if (refusal !== undefined) return refuse(refusal);
  const perH = balance.reaerationPerH + balance.exchangePerH;
  // Slower than once in a hundred years is neither air nor flow.
  return perH < 1e-6 ? impossible('no-air-and-no-flow') : ok(Math.max(0, settlingMgL(balance, perH)));
};

const settlingMgL = (balance: OxygenBalance, perH: number): number =>
  (balance.reaerationPerH * balance.solubilityMgL +
    balance.exchangePerH * balance.inflowOxygenMgL -
    balance.uptakeMgLPerH) /
  perH;

/**
 * Oxygen after some hours, mg/L: the curve ends at 0, since water has no less.
 * Answers for 0 to 100,000 h and the ranges above.
 * Source: mass balance. Check: from 7.025215, sealed, uptake 0.30927593, after 6 h: 5.16956.
 */
export const oxygenAfterMgL = ({ hours, ...balance }: OxygenBalance & { readonly hours: number }): Answer => {
  const refusal = refusalFor({ ...balance, hours }, BALANCE_RANGES);
  if (refusal !== undefined) return refuse(refusal);
  const perH = balance.reaerationPerH + balance.exchangePerH;
  // (1 - exp(-K t)) / K, which is t when K is 0; written so that a tiny K loses no digits.
  const elapsed = perH * hours < 1e-9 ? hours : -Math.expm1(-perH * hours) / perH;
  return ok(Math.max(0, balance.oxygenMgL + changeMgLPerH(balance) * elapsed));
};

/**
 * dC/dt now, mg/L/h. For numbers already checked.
 * Source: mass balance. Check: at 7.025215, 7.394963 at saturation, reaeration 0.05, uptake 0.30927593: -0.290789.
 */
export const changeMgLPerH = (balance: OxygenBalance): number =>
  balance.reaerationPerH * (balance.solubilityMgL - balance.oxygenMgL) +
  balance.exchangePerH * (balance.inflowOxygenMgL - balance.oxygenMgL) -
  balance.uptakeMgLPerH;

/**
 * Hours until the oxygen is at the target, from above or from below; "never" unless the target lies before the level at
 * which it settles.
 * Answers for a target of 0 to 50 mg/L and the ranges above.
 * Source: mass balance. Check: from 7.025215, sealed, uptake 0.30927593, to 4 mg/L: 9.7816 h.
 */
export const hoursUntilOxygen = ({
  targetMgL,
  ...balance
}: OxygenBalance & { readonly targetMgL: number }): Answer<Reach> => {
  const refusal = refusalFor({ ...balance, targetMgL }, BALANCE_RANGES);
  return refusal === undefined ? ok(reachOfOxygen(balance, targetMgL)) : refuse(refusal);
};

/** The same for numbers already checked. Source: mass balance. Check: the case above, 9.7816 h. */
export const reachOfOxygen = (balance: OxygenBalance, targetMgL: number): Reach => {
  if (targetMgL === balance.oxygenMgL) return reachIn(0);
  const change = changeMgLPerH(balance);
  const straightHours = (targetMgL - balance.oxygenMgL) / change;
  if (change === 0 || straightHours < 0) return NEVER;
  // Share of the way to the settling level; at 1 it is approached for ever.
  const share = straightHours * (balance.reaerationPerH + balance.exchangePerH);
  if (share >= 1) return NEVER;
  return reachIn(share < 1e-9 ? straightHours : (straightHours * -Math.log1p(-share)) / share);
};

/**
 * The same for a sealed tank whose animals slow down in proportion below a critical oxygen, as many bivalves do.
 * Not for alarms: the constant form gives the shorter time.
 * The critical oxygen belongs to species and stock; no default. Answers for one of 0.01 to 25 mg/L and the ranges above.
 * Source: mass balance. Check: from 7.025215, uptake 0.30927593, critical 2.5, to 1.0 mg/L: 22.0384 h.
 */
export const hoursUntilOxygenSlowing = (tank: {
  readonly oxygenMgL: number;
  readonly uptakeMgLPerH: number;
  readonly criticalMgL: number;
  readonly targetMgL: number;
}): Answer<Reach> => {
  const refusal = refusalFor(tank, { ...BALANCE_RANGES, criticalMgL: [0.01, 25] });
  if (refusal !== undefined) return refuse(refusal);
  const { oxygenMgL, uptakeMgLPerH: uptake, criticalMgL, targetMgL } = tank;
  if (targetMgL === oxygenMgL) return ok(reachIn(0));
  if (uptake === 0 || targetMgL > oxygenMgL) return ok(NEVER);
  const straight = Math.max(0, oxygenMgL - Math.max(criticalMgL, targetMgL)) / uptake;
  const slowingFrom = Math.min(oxygenMgL, criticalMgL);
  const slowing = targetMgL >= slowingFrom ? 0 : (criticalMgL / uptake) * Math.log(slowingFrom / targetMgL);
  return ok(reachIn(straight + slowing));
};
