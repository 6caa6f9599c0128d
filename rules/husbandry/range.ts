import type { Refusal } from '../answer.js';

/** Lowest and highest value that gets an answer, both included. */
export type Range = readonly [low: number, high: number];

/** From a beaker to a pond. */
export const VOLUME_L: Range = [0.001, 10_000_000];
export const CELLS_ML: Range = [0, 1e10];
/** A culture or a count that is divided by: never nothing. */
export const SOME_CELLS_ML: Range = [0.001, 1e11];
export const ANIMALS: Range = [1, 1e12];
export const HOURS: Range = [0.001, 10_000];
export const DAYS: Range = [0.001, 10_000];
export const SALINITY: Range = [0, 50];
export const TEMPERATURE_C: Range = [-2, 45];
export const ROOM_C: Range = [-30, 60];
export const FLOW_L_MIN: Range = [0.000_001, 1_000_000];
export const POWER_KW: Range = [0.001, 10_000];
/** Of one count: more than this nobody counts, and the interval would be no wider than the pipette. */
export const COUNT: Range = [0, 1_000_000];

/**
 * The first member of a list that is no answerable number, as a refusal; the list is named in the singular.
 * Source: arithmetic. Check value: of 1, 2, -1 in 0 to 10 it is -1.
 */
export const refusalInList = (what: string, values: readonly number[], [low, high]: Range): Refusal | undefined => {
  const bad = values.find((value) => !(value >= low && value <= high));
  if (bad === undefined) return undefined;
  return Number.isFinite(bad) ? { code: 'out-of-range', what, value: bad, low, high } : { code: 'not-finite', what };
};

/** A refusal when a count is not a whole number. Source: arithmetic. Check value: of 1 and 2.5 it is 2.5. */
export const refusalIfBroken = (what: string, values: readonly number[]): Refusal | undefined => {
  const bad = values.find((value) => !Number.isInteger(value));
  return bad === undefined ? undefined : { code: 'impossible', because: 'count-not-whole', with: { what, value: bad } };
};
