import { type BeyondLine, type DegreeHours, degreeHours } from './degree-hours.js';
import type { Sample } from './sample.js';

export type DegreeDays = Omit<DegreeHours, 'degreeHours'> & { readonly degreeDays: number };

/** °C d from °C h. Source: arithmetic. Check: 48/7 degree-hours are 2/7. */
export const degreeDaysFromDegreeHours = (total: DegreeHours): DegreeDays => {
  const { degreeHours: hours, ...rest } = total;
  return { ...rest, degreeDays: hours / 24 };
};

/**
 * Degree-days above a base temperature: degree-hours / 24, so that part of a day above the base counts as it was.
 * The base belongs to the species and the stock; there is no default.
 * Source: geometry. Check: 7 to 14 to 7 °C in a day, base 12: 2/7, as single triangulation gives, 0.5 (max - base)^2 /
 * (max - min).
 */
export const degreeDays = ({
  samples,
  baseC,
  maxGapMs,
}: {
  readonly samples: readonly Sample[];
  readonly baseC: number;
  readonly maxGapMs?: number;
}): DegreeDays => {
  const what: BeyondLine = { line: baseC, side: 'above', ...(maxGapMs === undefined ? {} : { maxGapMs }) };
  return degreeDaysFromDegreeHours(degreeHours(what, samples));
};
