import { beyond, excess } from '../statistics/degree-hours.js';
import type { Wants } from '../wire/picture.js';
import { hoursOf, type Measured } from './piece.js';

export const LINE_KEYS = ['targetLow', 'targetHigh', 'limitLow', 'limitHigh'] as const;
export type LineKey = (typeof LINE_KEYS)[number];

/** Time beyond one line, as it ruled then. */
export type Beyond = {
  readonly hours: number;
  /** The area beyond the line: °C h for a temperature, mg/L h for oxygen. */
  readonly degreeHours: number;
  /** The longest time beyond it without a break; unknown time breaks it. */
  readonly longestMs: number;
  readonly longestFromMs?: number;
};
export type BeyondLines = { readonly [key in LineKey]?: Beyond };

/** Straight lines of a channel, in order, with the lines that ruled while they were drawn. */
export type Ruled = { readonly pieces: readonly Measured[]; readonly wants: Wants | undefined };

type Tally = { hours: number; degreeHours: number; longest: Open | undefined; open: Open | undefined };
type Open = { readonly fromMs: number; readonly toMs: number };

/** The part of a piece that is beyond a line; undefined when none is. */
const stretchBeyond = (piece: Measured, from: number, to: number): Open | undefined => {
  if (from <= 0 && to <= 0) return undefined;
  if (from >= 0 && to >= 0) return piece;
  const crossingMs = piece.fromMs + ((piece.toMs - piece.fromMs) * from) / (from - to);
  return from > 0 ? { fromMs: piece.fromMs, toMs: crossingMs } : { fromMs: crossingMs, toMs: piece.toMs };
};

const longer = (a: Open | undefined, b: Open): Open =>
  a === undefined || b.toMs - b.fromMs > a.toMs - a.fromMs ? b : a;

const count = (tally: Tally, piece: Measured, from: number, to: number): void => {
  const sums = beyond(from, to, hoursOf(piece));
  tally.hours += sums.hoursBeyond;
  tally.degreeHours += sums.degreeHours;
  const stretch = stretchBeyond(piece, from, to);
  if (stretch === undefined) return;
  const before = tally.open?.toMs === stretch.fromMs ? tally.open : stretch;
  tally.open = { fromMs: before.fromMs, toMs: stretch.toMs };
  tally.longest = longer(tally.longest, tally.open);
};

/** Sums along one line over pieces in order of time. Pieces that do not touch are a break. Check: 18 to 22 °C in 4 h, above 20: 2 h, 2 °C h. */
export const beyondLine = (stretches: readonly Ruled[], key: LineKey): Beyond | undefined => {
  const side = key.endsWith('High') ? 'above' : 'below';
  const tally: Tally = { hours: 0, degreeHours: 0, longest: undefined, open: undefined };
  let isRuled = false;
  for (const { pieces, wants } of stretches) {
    const line = wants?.[key];
    if (line === undefined) continue;
    isRuled = true;
    for (const piece of pieces) {
      // Nearly every piece of a record: nothing of it lies beyond.
      if (side === 'above' ? piece.from <= line && piece.to <= line : piece.from >= line && piece.to >= line) continue;
      count(tally, piece, excess({ line, side }, piece.from), excess({ line, side }, piece.to));
    }
  }
  if (!isRuled) return undefined;
  const { hours, degreeHours, longest } = tally;
  return longest === undefined
    ? { hours, degreeHours, longestMs: 0 }
    : { hours, degreeHours, longestMs: longest.toMs - longest.fromMs, longestFromMs: longest.fromMs };
};

export const beyondLines = (stretches: readonly Ruled[]): BeyondLines =>
  Object.fromEntries(
    LINE_KEYS.flatMap((key) => {
      const sums = beyondLine(stretches, key);
      return sums === undefined ? [] : [[key, sums]];
    }),
  );
