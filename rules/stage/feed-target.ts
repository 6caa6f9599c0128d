import type { Place } from '../place.js';
import type { Span } from './profile.js';
import { isSpeciesGroupId, profileFor } from './profiles.js';

/** Algae that the stage of a place wants in its water, cells/mL; undefined where it is not fed or nothing is known. */
export const feedTargetOf = ({ speciesGroup, stage }: Pick<Place, 'speciesGroup' | 'stage'>): Span | undefined => {
  if (speciesGroup === undefined || stage === undefined || !isSpeciesGroupId(speciesGroup)) return undefined;
  const target = profileFor(speciesGroup, stage)?.algaeCellsMl.target;
  return target?.low === undefined || target.low <= 0 ? undefined : target;
};

/** The middle of a span, or its only end. */
export const bandMiddle = (span: Span | undefined): number | undefined => {
  if (span?.low === undefined) return span?.high;
  return span.high === undefined ? span.low : (span.low + span.high) / 2;
};
