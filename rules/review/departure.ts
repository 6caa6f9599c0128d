import type { Quantity } from '../quantity.js';
import { MAD_TO_SIGMA, spreadOf } from '../statistics/quantile.js';
import type { Sample } from '../statistics/sample.js';
import { isMeasured, type Measured, type Piece, type Span, within } from './piece.js';

const HOUR_MS = 3_600_000;

/** Smaller departures than this are ordinary days. Common practice, no source. */
const LEAST: { readonly [quantity in Quantity]?: number } = {
  temperature: 1,
  salinity: 1,
  conductivity: 2,
  'specific-conductance': 2,
  'oxygen-mg-l': 0.8,
  'oxygen-saturation': 8,
  ph: 0.2,
  level: 0.05,
  flow: 0.5,
  pressure: 2,
};
/** And so many times the usual spread, so that a channel that swings every day must do more. */
const SPREADS = 4;
const FEWEST_HOURS = 6;

/** The largest departure of a channel from what it had been, and when it began. */
export type Departure = {
  readonly channelId: string;
  readonly usual: number;
  readonly tolerance: number;
  readonly farthest: Sample;
  /** Left its usual range between these two: at a silence it is not known closer. */
  readonly fromMs: number;
  readonly toMs: number;
};

export type DepartureQuestion = {
  readonly channelId: string;
  readonly quantity: Quantity;
  /** Outside declared work. */
  readonly pieces: readonly Piece[];
  /** Where the departure is looked for; what was usual is told by all that came before its end. */
  readonly span: Span;
};

/** Of each hour up to a moment the first piece's middle. Pieces lie in order. */
const hourMiddles = (pieces: readonly Piece[], untilMs: number): readonly number[] => {
  const middles: number[] = [];
  let nextMs = Number.NEGATIVE_INFINITY;
  for (const piece of pieces) {
    if (piece.fromMs < nextMs || piece.toMs > untilMs || !isMeasured(piece)) continue;
    middles.push((piece.from + piece.to) / 2);
    nextMs = (Math.floor(piece.fromMs / HOUR_MS) + 1) * HOUR_MS;
  }
  return middles;
};

const farthestOf = (pieces: readonly Measured[], usual: number): Sample | undefined => {
  let farthest: Sample | undefined;
  let off = Number.NEGATIVE_INFINITY;
  const look = (atMs: number, value: number): void => {
    const away = Math.abs(value - usual);
    if (away <= off) return;
    off = away;
    farthest = { atMs, value };
  };
  for (const { fromMs, toMs, from, to, low, high } of pieces) {
    look(fromMs, low ?? from);
    look(toMs, high ?? to);
  }
  return farthest;
};

/** Back from the farthest to where the line last lay within the tolerance. */
const beganAt = (
  pieces: readonly Piece[],
  farthest: Sample,
  isUsual: (value: number) => boolean,
  line: number,
): Span => {
  let index = pieces.findLastIndex(({ fromMs }) => fromMs <= farthest.atMs);
  for (; index >= 0; index -= 1) {
    const piece = pieces[index];
    if (piece === undefined) break;
    if (isMeasured(piece)) {
      if (isUsual(piece.from) && piece.fromMs <= farthest.atMs) {
        const share = piece.to === piece.from ? 0 : (line - piece.from) / (piece.to - piece.from);
        const at = piece.fromMs + Math.min(1, Math.max(0, share)) * (piece.toMs - piece.fromMs);
        return { fromMs: at, toMs: at };
      }
      continue;
    }
    // Before a silence it was usual, and after it no longer: it began in between.
    const [before, after] = [pieces.slice(0, index).findLast(isMeasured), piece.toMs];
    if (before === undefined || isUsual(before.to)) return { fromMs: before?.toMs ?? piece.fromMs, toMs: after };
  }
  const startMs = pieces[0]?.fromMs ?? farthest.atMs;
  return { fromMs: startMs, toMs: startMs };
};

/**
 * When a channel left what it had been, if it did: its usual value is the median of its hours, and it left it when it
 * was farther off than 4 robust standard deviations and the least departure of its quantity. Common practice, no source.
 */
export const departureOf = ({ channelId, quantity, pieces, span }: DepartureQuestion): Departure | undefined => {
  const least = LEAST[quantity];
  const hours = hourMiddles(pieces, span.toMs);
  if (least === undefined || hours.length < FEWEST_HOURS) return undefined;
  const { median: usual, mad } = spreadOf(hours);
  const tolerance = Math.max(least, SPREADS * MAD_TO_SIGMA * mad);
  const inside = within(pieces, span);
  const farthest = farthestOf(inside.filter(isMeasured), usual);
  if (farthest === undefined || Math.abs(farthest.value - usual) <= tolerance) return undefined;
  const isUsual = (value: number): boolean => Math.abs(value - usual) <= tolerance;
  const line = farthest.value > usual ? usual + tolerance : usual - tolerance;
  return { channelId, usual, tolerance, farthest, ...beganAt(inside, farthest, isUsual, line) };
};
