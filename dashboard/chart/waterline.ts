import type { ByQuantity, Quantity } from '../../rules/quantity.js';
import type { Wants } from '../../rules/wire/picture.js';

/**
 * THE scale: every channel of every tank on what it wants. 0 is the middle of the target, ±1 its edges, ±2 the limits,
 * ±2.5 a ceiling. Straight between these lines; past the last one straight on, then softly bounded, so that no value
 * leaves the drawing and none stands still while it moves.
 */
export const TARGET_AT = 1;
export const LIMIT_AT = 2;
export const CEILING_AT = 2.5;
export const BOUND = 3;

/** Where a value rests on a side that has no line: oxygen has no upper limit by night. */
export const REST_AT = 0.5;

/** Half a usual target band, for a channel with one line only. Our own choice for the drawing; judges nothing. */
const HALF_BAND: ByQuantity<number> = {
  temperature: 2,
  conductivity: 3,
  'specific-conductance': 3,
  salinity: 2,
  'oxygen-mg-l': 1,
  'oxygen-saturation': 12,
  ph: 0.2,
  orp: 100,
  pressure: 5,
  level: 0.1,
  flow: 2,
  contact: 1,
  battery: 0.3,
};

/** One line of one side: `away` is its distance from the middle in units of the scale. */
type Knot = { readonly value: number; readonly away: number };
/** Lines of one side, nearest first; `sign` is +1 for the upper side. */
type Side = { readonly sign: 1 | -1; readonly knots: readonly Knot[] };

const sideOf = (
  sign: 1 | -1,
  target: number | undefined,
  limit: number | undefined,
  ceiling: number | undefined,
): Side => {
  const knots: Knot[] = [];
  const add = (value: number | undefined, away: number): void => {
    const last = knots.at(-1);
    if (value !== undefined && (last === undefined || sign * (value - last.value) > 0)) knots.push({ value, away });
  };
  add(target, TARGET_AT);
  add(limit, LIMIT_AT);
  add(ceiling, CEILING_AT);
  return { sign, knots };
};

/** The value at 0: midway by the scale between the nearest lines of both sides, or one band inside the only side. */
const middleOf = (low: Side, high: Side, halfBand: number): number | undefined => {
  const [below] = low.knots;
  const [above] = high.knots;
  if (below !== undefined && above !== undefined)
    return below.value + ((above.value - below.value) * below.away) / (below.away + above.away);
  const [only, side] = below === undefined ? [above, high] : [below, low];
  if (only === undefined) return undefined;
  const [, next] = side.knots;
  const unit = next === undefined ? halfBand : Math.abs(next.value - only.value) / (next.away - only.away);
  return only.value - side.sign * unit * only.away;
};

/** Past the last line: straight on for a quarter of a unit, then ever slower towards the bound. */
const bounded = (away: number, last: number): number => {
  const straight = Math.min(last + 0.25, BOUND - 0.25);
  const room = BOUND - straight;
  return away <= straight ? away : straight + room * (1 - Math.exp(-(away - straight) / room));
};

/** Distance from the middle towards the side, in units of the scale; below zero on the far side of the middle. */
const awayOnSide = (side: Side, middle: number, value: number): number => {
  let from: Knot = { value: middle, away: 0 };
  let unit = 0;
  for (const to of side.knots) {
    const width = Math.abs(to.value - from.value);
    if (width > 0) unit = (to.away - from.away) / width;
    if (side.sign * (to.value - value) >= 0) return from.away + side.sign * (value - from.value) * unit;
    from = to;
  }
  return bounded(from.away + side.sign * (value - from.value) * unit, from.away);
};

/** A value's place on the waterline, −3 to 3 exclusive; undefined when the channel wants nothing or the value is no number. */
export type Scale = (value: number) => number | undefined;

/** The scale of one channel, built once per change of what it wants. */
export const waterline = (quantity: Quantity, wants: Wants | undefined): Scale => {
  const none: Scale = () => undefined;
  if (wants === undefined) return none;
  const low = sideOf(-1, wants.targetLow, wants.limitLow, wants.ceilingLow);
  const high = sideOf(1, wants.targetHigh, wants.limitHigh, wants.ceilingHigh);
  const middle = middleOf(low, high, HALF_BAND[quantity]);
  if (middle === undefined) return none;
  const place = quantity === 'contact' ? switchPlace(low, high) : linePlace(low, high, middle);
  return (value) => (Number.isFinite(value) ? place(value) : undefined);
};

const linePlace = (low: Side, high: Side, middle: number) => {
  const shut = low.knots.length === 0 ? high : low;
  const oneSided = low.knots.length === 0 || high.knots.length === 0;
  return (value: number): number => {
    if (oneSided) return shut.sign * Math.max(awayOnSide(shut, middle, value), -REST_AT);
    return value >= middle ? awayOnSide(high, middle, value) : -awayOnSide(low, middle, value);
  };
};

/** A switch is right or wrong; nothing lies between. */
const switchPlace = (low: Side, high: Side) => {
  const [floor] = low.knots;
  const [top] = high.knots;
  return (value: number): number => {
    if (floor !== undefined && value < floor.value) return -CEILING_AT;
    return top !== undefined && value > top.value ? CEILING_AT : 0;
  };
};
