import { type Answer, impossible, refusalFor, refuse } from '../answer.js';
import { ok } from '../result.js';
import { HOURS, type Range } from './range.js';

const OXYGEN_MG_L: Range = [0, 50];

/**
 * Air failed: hours to a limit down the straight line through two readings. A first figure at the bench; the oxygen
 * budget knows about animals, surface and flow.
 * Answers for falling readings of 0 to 50 mg/L and 0.001 to 10,000 h between them.
 * Check value: 7.2 to 6.6 mg/L in half an hour, limit 4.2: 1.2 mg/L/h, 2.0 h. Source: arithmetic.
 */
export const oxygenDecline = (readings: {
  readonly firstMgL: number;
  readonly secondMgL: number;
  readonly hoursBetween: number;
  readonly limitMgL: number;
}): Answer<{ readonly rateMgLPerH: number; readonly hoursFromSecondReading: number }> => {
  const { firstMgL, secondMgL, hoursBetween, limitMgL } = readings;
  const refusal = refusalFor(
    { firstMgL, secondMgL, hoursBetween, limitMgL },
    { firstMgL: OXYGEN_MG_L, secondMgL: OXYGEN_MG_L, hoursBetween: HOURS, limitMgL: OXYGEN_MG_L },
  );
  if (refusal !== undefined) return refuse(refusal);
  if (secondMgL >= firstMgL) return impossible('no-decline');
  if (secondMgL < limitMgL) return impossible('already-past', { now: secondMgL, line: limitMgL });
  const rateMgLPerH = (firstMgL - secondMgL) / hoursBetween;
  return ok({ rateMgLPerH, hoursFromSecondReading: (secondMgL - limitMgL) / rateMgLPerH });
};
