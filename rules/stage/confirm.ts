import type { Course, OwnWants, Place } from '../place.js';
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
      // Delays and a target that moves are no lines: they stay as they are.
      const { unwatched: _u, ...before } = place.stageWants?.[stage]?.[quantity] ?? {};
      return Object.keys(own).length === 0 ? [] : [[quantity, { ...before, ...own, confirmed: true }]];
    }),
  );
  return { ...rest, stage, stageWants: { ...place.stageWants, [stage]: { ...place.stageWants?.[stage], ...wants } } };
};

/**
 * The place with the way that the target of a quantity takes, for the stage that it is in; undefined is a target that
 * stays. One that was set for every stage is changed there, for it would go on ruling the others.
 */
export const withCourse = (place: Place, quantity: BandQuantity, course: Course | undefined): Place => {
  const { stage, wants } = place;
  if (stage === undefined || stage === 'empty') return place;
  const inStage = place.stageWants?.[stage];
  const isForAll = inStage?.[quantity]?.course === undefined && wants?.[quantity]?.course !== undefined;
  const set = (own: OwnWants | undefined): OwnWants => {
    const { course: _, ...lines } = own ?? {};
    return course === undefined ? lines : { ...lines, course };
  };
  const all = course === undefined || isForAll;
  return {
    ...place,
    ...(all && wants?.[quantity] !== undefined ? { wants: { ...wants, [quantity]: set(wants[quantity]) } } : {}),
    ...(isForAll || (course === undefined && inStage?.[quantity] === undefined)
      ? {}
      : { stageWants: { ...place.stageWants, [stage]: { ...inStage, [quantity]: set(inStage?.[quantity]) } } }),
  };
};
