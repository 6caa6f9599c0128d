import { type Answer, impossible, refusalFor, refuse } from '../answer.js';
import { ok } from '../result.js';

/** Rates of life and decay against temperature. Q10 falls near the limit of the animal: do not carry it beyond what was measured. */

const RANGES = {
  rate: [0, 1e12],
  rateAtFrom: [1e-12, 1e12],
  rateAtTo: [1e-12, 1e12],
  q10: [0.1, 100],
  theta: [0.5, 2],
  fromC: [-5, 60],
  toC: [-5, 60],
} as const;

/**
 * Factor by which a rate changes from one temperature to another, °C. For numbers already checked.
 * Source: the definition of Q10. Check: Q10 2 from 18 to 25 °C: 1.624505.
 */
export const q10Factor = (q10: number, fromC: number, toC: number): number => q10 ** ((toC - fromC) / 10);

/**
 * R2 = R1 Q10^((T2 - T1)/10), in the unit of the rate given.
 * Answers for rates of 0 to 1e12, Q10 0.1 to 100, -5 to 60 °C.
 * Source: the definition of Q10. Check: 0.5 at 18 °C, Q10 2, gives 0.81225240 at 25 °C.
 */
export const rateAtTemperature = (given: {
  readonly rate: number;
  readonly q10: number;
  readonly fromC: number;
  readonly toC: number;
}): Answer => {
  const refusal = refusalFor(given, RANGES);
  return refusal === undefined ? ok(given.rate * q10Factor(given.q10, given.fromC, given.toC)) : refuse(refusal);
};

/**
 * Q10 = (R2/R1)^(10/(T2 - T1)). Answers for rates of 1e-12 to 1e12 at two temperatures, -5 to 60 °C.
 * Source: the definition of Q10. Check: 0.6 at 15 °C and 0.9 at 20 °C give 2.25.
 */
export const q10FromRates = (given: {
  readonly rateAtFrom: number;
  readonly rateAtTo: number;
  readonly fromC: number;
  readonly toC: number;
}): Answer => {
  const refusal = refusalFor(given, RANGES);
  if (refusal !== undefined) return refuse(refusal);
  const { rateAtFrom, rateAtTo, fromC, toC } = given;
  const q10 = (rateAtTo / rateAtFrom) ** (10 / (toC - fromC));
  return fromC !== toC && Number.isFinite(q10) ? ok(q10) : impossible('temperatures-too-close', { fromC, toC });
};

/** Q10 of a factor for one degree. Answers for 0.5 to 2. Source: arithmetic. Check: 1.024 gives 1.267651. */
export const q10FromTheta = (theta: number): Answer => {
  const refusal = refusalFor({ theta }, RANGES);
  return refusal === undefined ? ok(theta ** 10) : refuse(refusal);
};

/** Factor for one degree of a Q10. Answers for 0.1 to 100. Source: arithmetic. Check: 2 gives 1.071773. */
export const thetaFromQ10 = (q10: number): Answer => {
  const refusal = refusalFor({ q10 }, RANGES);
  return refusal === undefined ? ok(q10 ** 0.1) : refuse(refusal);
};
