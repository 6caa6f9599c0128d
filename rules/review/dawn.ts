import { dayStartMs, nextDayMs, zoneOffsetMs } from '../words/clock.js';
import { hoursOf, isMeasured, type Measured, type Piece, type Span, within } from './piece.js';

const HOUR_MS = 3_600_000;

/** A night's lowest lies after midnight and before this hour of the local clock. Common practice, no source. */
export const DAWN_OVER_H = 10;

export type Dawn = {
  /** Local midnight before it. */
  readonly dayMs: number;
  readonly low: number;
  readonly atMs: number;
  readonly measuredH: number;
  /** From midnight to ten by the clock on the wall: 9 or 11 h where the clock is changed in that night. */
  readonly nightH: number;
};

/** Each local day's hours from midnight to ten by its own clock, that begin in the span. */
export const dawnSpans = ({ fromMs, toMs }: Span, zone: string): readonly Span[] => {
  const spans: Span[] = [];
  for (let day = dayStartMs(fromMs, zone); day < toMs; day = nextDayMs(day, zone)) {
    const even = day + DAWN_OVER_H * HOUR_MS;
    const over = even - (zoneOffsetMs(even, zone) - zoneOffsetMs(day, zone));
    if (day >= fromMs) spans.push({ fromMs: day, toMs: Math.min(over, toMs) });
  }
  return spans;
};

const lowestOf = (pieces: readonly Measured[]): { readonly low: number; readonly atMs: number } | undefined => {
  let lowest: { low: number; atMs: number } | undefined;
  for (const { fromMs, toMs, from, to, low } of pieces) {
    const value = low ?? Math.min(from, to);
    if (lowest === undefined || value < lowest.low) lowest = { low: value, atMs: to < from ? toMs : fromMs };
  }
  return lowest;
};

/** The lowest value of every night in the span; a night without a reading is left out, and its neighbours say so. */
export const dawnMinima = (pieces: readonly Piece[], span: Span, zone: string): readonly Dawn[] =>
  dawnSpans(span, zone).flatMap((night) => {
    const measured = within(pieces, night).filter(isMeasured);
    const lowest = lowestOf(measured);
    if (lowest === undefined) return [];
    const measuredH = measured.reduce((sum, piece) => sum + hoursOf(piece), 0);
    return [{ dayMs: night.fromMs, ...lowest, measuredH, nightH: hoursOf(night) }];
  });
