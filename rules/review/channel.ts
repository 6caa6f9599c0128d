import type { Quantity } from '../quantity.js';
import type { ChannelReadings, Gap } from '../wire/api.js';
import { buildIsAtWork } from './at-work.js';
import { type Departure, departureOf } from './departure.js';
import { type DatedWants, type Exposure, exposureOf } from './exposure.js';
import { cutAt, type Piece, piecesOf, type Span } from './piece.js';
import type { ReviewWindow, WindowName } from './window.js';

/** Why a channel is in a review: of a tank with deaths, of one without, or of what supplies them. */
export type ChannelPart = 'affected' | 'unaffected' | 'supply';

export type ChannelFacts = {
  readonly channelId: string;
  readonly placeId: string;
  readonly quantity: Quantity;
  readonly part: ChannelPart;
  /** Every reading of 14 days. */
  readonly fine: ChannelReadings;
  /** Whole hours of the batch's life, where it is longer. */
  readonly coarse?: ChannelReadings;
  readonly wants: DatedWants;
  /** Declared work at its place. */
  readonly work: readonly Span[];
  /** Over times and values of `fine`: another one later means that readings or their correction changed. */
  readonly fingerprint: string;
  /** Over everything that the raw file says of this channel; not where readings of the time were dropped already. */
  readonly rowsSha256?: string;
};

export type ReviewedChannel = Omit<ChannelFacts, 'fine' | 'coarse' | 'work'> & {
  readonly readings: number;
  readonly exposures: { readonly [window in WindowName]?: Exposure };
  readonly gaps: readonly Gap[];
  readonly departure?: Departure;
};

/** Pieces without the time of declared work. */
export const outsideWork = (pieces: readonly Piece[], work: readonly Span[]): readonly Piece[] => {
  if (work.length === 0) return pieces;
  const edges = work.flatMap(({ fromMs, toMs }) => [fromMs, toMs]).sort((a, b) => a - b);
  const isAtWork = buildIsAtWork(work);
  return cutAt(pieces, edges).filter((piece) => !isAtWork(piece));
};

/** One channel in every window, and when it departed from what it had been within 72 hours. */
export const reviewedChannel = (
  { fine, coarse, work, ...facts }: ChannelFacts,
  windows: readonly ReviewWindow[],
  zone: string,
): ReviewedChannel => {
  const { channelId, quantity, wants } = facts;
  const pieces = piecesOf(fine);
  const hours = coarse === undefined ? pieces : piecesOf(coarse);
  const exposures = windows.map((window) => {
    const of = window.fromMs >= fine.fromMs ? pieces : hours;
    const withoutDawns = !quantity.startsWith('oxygen-');
    return [window.name, exposureOf({ pieces: of, span: window, wants, work, zone, withoutDawns })] as const;
  });
  const lately = windows.find(({ name }) => name === '72h');
  const departure =
    lately === undefined
      ? undefined
      : departureOf({ channelId, quantity, pieces: outsideWork(pieces, work), span: lately });
  return {
    ...facts,
    readings: fine.atMs.length,
    exposures: Object.fromEntries(exposures),
    gaps: fine.gaps,
    ...(departure === undefined ? {} : { departure }),
  };
};
