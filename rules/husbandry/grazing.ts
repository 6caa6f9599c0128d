import { type Answer, impossible, refusalFor, refuse } from '../answer.js';
import { ok } from '../result.js';
import { ANIMALS, HOURS, SOME_CELLS_ML, VOLUME_L } from './range.js';

export type ClearanceOptions = {
  readonly volumeL: number;
  readonly animals: number;
  readonly hours: number;
  readonly startCellsMl: number;
  readonly endCellsMl: number;
  readonly controlStartCellsMl: number;
  readonly controlEndCellsMl: number;
};
export type Clearance = {
  readonly clearanceLPerHPerAnimal: number;
  readonly meanCellsMl: number;
  readonly ingestionCellsPerHPerAnimal: number;
};

/**
 * Water cleared and cells eaten per animal and hour, from two counts and a control without animals.
 * CR = V / (n t) · (ln(C0/Ct) − ln(K0/Kt)), at the logarithmic mean concentration. No answer when the control lost more
 * than the tank.
 * Answers for 0.001 to 10 million L, 1 to 1e12 animals, 0.001 to 10,000 h and 0.001 to 1e11 cells/mL.
 * Check value: 60,000 to 22,000 in 2 h, control to 57,000, 50 animals, 200 L: 1.904 L/h and 7.21e7 cells/h. Source:
 * Coughlan 1969, Marine Biology 2:356-358 (from memory).
 */
export const clearance = (counts: ClearanceOptions): Answer<Clearance> => {
  const refusal = refusalFor(
    { ...counts },
    {
      volumeL: VOLUME_L,
      animals: ANIMALS,
      hours: HOURS,
      startCellsMl: SOME_CELLS_ML,
      endCellsMl: SOME_CELLS_ML,
      controlStartCellsMl: SOME_CELLS_ML,
      controlEndCellsMl: SOME_CELLS_ML,
    },
  );
  if (refusal !== undefined) return refuse(refusal);
  const { volumeL, animals, hours, startCellsMl, endCellsMl, controlStartCellsMl, controlEndCellsMl } = counts;
  const eaten = Math.log(startCellsMl / endCellsMl) - Math.log(controlStartCellsMl / controlEndCellsMl);
  if (eaten < 0) return impossible('nothing-grazed');
  const clearanceLPerHPerAnimal = (volumeL / (animals * hours)) * eaten;
  const meanCellsMl = logarithmicMean(startCellsMl, endCellsMl);
  const ingestionCellsPerHPerAnimal = clearanceLPerHPerAnimal * meanCellsMl * 1000;
  return ok({ clearanceLPerHPerAnimal, meanCellsMl, ingestionCellsPerHPerAnimal });
};

/** log1p keeps the quotient exact when the two are nearly equal. */
const logarithmicMean = (a: number, b: number): number => (a === b ? a : (a - b) / Math.log1p((a - b) / b));

export type GrazingForecastOptions = {
  readonly firstCellsMl: number;
  readonly secondCellsMl: number;
  readonly hoursBetween: number;
  readonly nowCellsMl: number;
  readonly floorCellsMl: number;
};

/**
 * Hours until a tank is grazed down to a residual, at the rate between two counts. k = ln(C1/C2)/t; hours =
 * ln(now/floor)/k.
 * Answers for falling counts of 0.001 to 1e11 cells/mL and 0.001 to 10,000 h between them.
 * Check value: 50,000 to 18,000 in 16 h; from 50,000 to 10,000: 25.21 h. Source: arithmetic.
 */
export const grazingForecast = (
  counts: GrazingForecastOptions,
): Answer<{ readonly ratePerH: number; readonly hoursToFloor: number }> => {
  const cells = SOME_CELLS_ML;
  const refusal = refusalFor(
    { ...counts },
    { firstCellsMl: cells, secondCellsMl: cells, nowCellsMl: cells, floorCellsMl: cells, hoursBetween: HOURS },
  );
  if (refusal !== undefined) return refuse(refusal);
  const { firstCellsMl, secondCellsMl, hoursBetween, nowCellsMl, floorCellsMl } = counts;
  if (secondCellsMl >= firstCellsMl) return impossible('no-decline');
  if (nowCellsMl < floorCellsMl) return impossible('already-past', { now: nowCellsMl, line: floorCellsMl });
  const ratePerH = Math.log(firstCellsMl / secondCellsMl) / hoursBetween;
  return ok({ ratePerH, hoursToFloor: Math.log(nowCellsMl / floorCellsMl) / ratePerH });
};
