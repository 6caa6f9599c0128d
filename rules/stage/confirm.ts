import type { OwnWants, Place } from '../place.js';
import type { Wants } from '../wire/picture.js';
import { BAND_QUANTITIES, type BandQuantity } from './profiles.js';
import { wantsFor } from './wants.js';

/** The lines that a person stands by, from the lowest to the highest. */
export const STAGE_LINES = ['limitLow', 'targetLow', 'targetHigh', 'limitHigh', 'ceilingHigh'] as const;
export type StageLine = (typeof STAGE_LINES)[number];
export type TypedLines = { readonly [quantity in BandQuantity]?: { readonly [line in StageLine]?: number } };

/** The lines of a place in its stage as they would rule with nothing held. */
export const linesOf = (place: Place, quantity: BandQuantity): Wants => {
  const { held: _, ...free } = place;
  return wantsFor(free, quantity) ?? { confirmed: false };
};

/**
 * The place with its lines for this stage written down and confirmed: those typed, else those that stand there. What
 * was held by a change of stage is free: a person has looked.
 */
export const confirmedPlace = (place: Place, typed: TypedLines): Place => {
  const { stage, held: _, ...rest } = place;
  if (stage === undefined || stage === 'empty') return place;
  const wants = Object.fromEntries(
    BAND_QUANTITIES.flatMap((quantity): readonly (readonly [string, OwnWants])[] => {
      const { confirmed: _c, ...lines } = linesOf(place, quantity);
      const own = { ...lines, ...typed[quantity] };
      return Object.keys(own).length === 0 ? [] : [[quantity, { ...own, confirmed: true }]];
    }),
  );
  return { ...rest, stage, stageWants: { ...place.stageWants, [stage]: { ...place.stageWants?.[stage], ...wants } } };
};
