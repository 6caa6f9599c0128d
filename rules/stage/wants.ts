import type { Course, OwnWants, Place } from '../place.js';
import type { Quantity } from '../quantity.js';
import type { Wants } from '../wire/picture.js';
import { type Followed, onCourse } from './course.js';
import { tighter } from './hold.js';
import { BAND_QUANTITIES, type BandQuantity, bandFor, isSpeciesGroupId } from './profiles.js';

const LINES = ['targetLow', 'targetHigh', 'limitLow', 'limitHigh', 'ceilingLow', 'ceilingHigh'] as const;
type Lines = { readonly [line in (typeof LINES)[number]]?: number };

const isBandQuantity = (quantity: Quantity): quantity is BandQuantity =>
  (BAND_QUANTITIES as readonly string[]).includes(quantity);

/** What the built-in profile of species group and stage says; nothing for a tank that is empty or not described. */
const profileLines = ({ speciesGroup, stage }: Place, quantity: Quantity): Lines => {
  if (speciesGroup === undefined || stage === undefined) return {};
  if (!isSpeciesGroupId(speciesGroup) || !isBandQuantity(quantity)) return {};
  const band = bandFor(speciesGroup, stage, quantity);
  if (band === undefined) return {};
  const lines: { [line in keyof Lines]: number | undefined } = {
    targetLow: band.target.low,
    targetHigh: band.target.high,
    limitLow: band.limit.low,
    // Too much gas is a share of saturation: in mg/L, calm water of 16 °C reads as too much for water of 27 °C.
    limitHigh: quantity === 'oxygen-mg-l' ? undefined : band.limit.high,
    ceilingHigh: band.ceiling?.value,
  };
  return Object.fromEntries(Object.entries(lines).filter(([, value]) => value !== undefined));
};

const ownLines = (own: OwnWants): Lines =>
  Object.fromEntries(LINES.flatMap((line) => (own[line] === undefined ? [] : [[line, own[line]]])));

/** What the hatchery set for this place: for its stage where it did, over what it set for every stage. */
const ownWants = ({ wants, stageWants, stage }: Place, quantity: Quantity): OwnWants => ({
  ...wants?.[quantity],
  ...(stage === undefined ? undefined : stageWants?.[stage]?.[quantity]),
});

/**
 * The lines that rule a channel now: the hatchery's own over the stage profile's. Undefined where there is none, or
 * where the hatchery wants none: the channel is then listed under "not watched". A profile's limits stay unconfirmed
 * until the hatchery has looked at them for this stage.
 */
export const wantsFor = (place: Place | undefined, quantity: Quantity): Wants | undefined => {
  if (place === undefined || place.stage === 'empty') return undefined;
  const own = ownWants(place, quantity);
  if (own.unwatched === true) return undefined;
  const lines = tighter({ ...profileLines(place, quantity), ...ownLines(own) }, place.held?.[quantity]);
  if (Object.keys(lines).length === 0 && own.course === undefined) return undefined;
  return { ...lines, confirmed: own.confirmed === true };
};

/** The course that a target takes here, if it moves. */
export const courseOf = (place: Place | undefined, quantity: Quantity): Course | undefined =>
  place === undefined ? undefined : ownWants(place, quantity).course;

/** The same at a moment, with the target where its schedule or the channel that it follows puts it. */
export const wantsAt = (
  place: Place | undefined,
  quantity: Quantity,
  atMs: number,
  followed: Followed,
): Wants | undefined => {
  const wants = wantsFor(place, quantity);
  const course = courseOf(place, quantity);
  return wants === undefined || course === undefined ? wants : onCourse(wants, course, atMs, followed);
};
