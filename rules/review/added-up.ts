import { beyond, excess } from '../statistics/degree-hours.js';
import type { Wants } from '../wire/picture.js';
import { outsideWork } from './channel.js';
import type { DatedWants } from './exposure.js';
import { cutAt, hoursOf, isMeasured, type Measured, type Piece, type Span } from './piece.js';

/** Degree-hours (or mg/L-hours) beyond the limits, added up from the first piece on; null where nothing was measured. */
export type AddedUp = { readonly atMs: readonly number[]; readonly total: readonly (number | null)[] };

const beyondBoth = (piece: Measured, wants: Wants | undefined): number =>
  (['limitLow', 'limitHigh'] as const).reduce((sum, key) => {
    const line = wants?.[key];
    if (line === undefined) return sum;
    const side = key === 'limitHigh' ? 'above' : 'below';
    const [from, to] = [excess({ line, side }, piece.from), excess({ line, side }, piece.to)];
    return sum + beyond(from, to, hoursOf(piece)).degreeHours;
  }, 0);

/**
 * How exposure grew: beyond the limits as they ruled then, outside declared work. Unknown time adds nothing and breaks the
 * line. Check: 18 to 22 °C in 4 h with a limit at 20: 2 °C h at its end. Source: geometry (rules/statistics/degree-hours.ts).
 */
export const addedUp = (pieces: readonly Piece[], wants: DatedWants, work: readonly Span[]): AddedUp => {
  const edges = wants.map(({ fromMs }) => fromMs).filter(Number.isFinite);
  const atMs: number[] = [];
  const total: (number | null)[] = [];
  const put = (at: number, value: number | null): void => {
    atMs.push(at);
    total.push(value);
  };
  let sum = 0;
  let endMs: number | undefined;
  for (const piece of outsideWork(cutAt(pieces, edges), work)) {
    if (!isMeasured(piece)) {
      put(piece.fromMs, null);
      endMs = undefined;
      continue;
    }
    if (endMs !== piece.fromMs) put(piece.fromMs, sum);
    sum += beyondBoth(piece, wants.findLast(({ fromMs }) => fromMs <= piece.fromMs)?.wants);
    put(piece.toMs, sum);
    endMs = piece.toMs;
  }
  return { atMs, total };
};

/** What had been added up by a moment. */
export const totalAt = ({ atMs, total }: AddedUp, at: number): number => {
  for (let n = atMs.findLastIndex((one) => one <= at); n >= 0; n -= 1) {
    const value = total[n];
    if (value !== null && value !== undefined) return value;
  }
  return 0;
};
