import { createHash } from 'node:crypto';
import { parseChannelId } from '../../rules/channel.js';
import { type ChannelPart, type ReviewedChannel, reviewedChannel } from '../../rules/review/channel.js';
import type { DatedWants } from '../../rules/review/exposure.js';
import type { Span } from '../../rules/review/piece.js';
import { type ReviewWindow, widest } from '../../rules/review/window.js';
import type { ChannelReadings } from '../../rules/wire/api.js';
import { HOUR_MS } from '../journal/hour.js';

/** One channel of a review, with all that the history itself does not know. */
export type ReviewAsked = {
  readonly channelId: string;
  readonly placeId: string;
  readonly part: ChannelPart;
  readonly windows: readonly ReviewWindow[];
  readonly wants: DatedWants;
  /** Declared work at its place. */
  readonly work: readonly Span[];
  readonly zone: string;
  /** What is still to come is not part of it. */
  readonly nowMs: number;
};

/** A question for readings, as the history takes it. */
export type ReadingsAsked = Span & { readonly points: number };

/** More than a channel has in 14 days at one a second: every reading is asked for. */
const EVERY_READING = 2_000_000;

/** What the raw file of a review holds: not the batch's whole life. */
export const rawSpanOf = (windows: readonly ReviewWindow[]): Span =>
  widest(windows.filter(({ name }) => name !== 'batch'));

/** Every reading of the fortnight and an hour before it; and the batch's life by whole hours, where it is longer. */
export const readingsFor = ({
  windows,
  nowMs,
}: Pick<ReviewAsked, 'windows' | 'nowMs'>): { readonly fine: ReadingsAsked; readonly coarse?: ReadingsAsked } => {
  const narrow = rawSpanOf(windows);
  const whole = widest(windows);
  const toMs = Math.min(narrow.toMs, nowMs);
  const fine = { fromMs: narrow.fromMs - HOUR_MS, toMs, points: EVERY_READING };
  if (whole.fromMs >= fine.fromMs) return { fine };
  const points = Math.max(1, Math.ceil((toMs - whole.fromMs) / HOUR_MS)) + 1;
  return { fine, coarse: { fromMs: whole.fromMs, toMs, points } };
};

/** The review of a channel from its readings. A channel id that is none is a bug of the caller. */
export const reviewFrom = (
  { windows, zone, nowMs: _, ...asked }: ReviewAsked,
  fine: ChannelReadings,
  coarse: ChannelReadings | undefined,
  rowsSha256: string | undefined,
): ReviewedChannel => {
  const quantity = parseChannelId(asked.channelId)?.quantity;
  if (quantity === undefined) throw new Error(`Not a channel id: ${asked.channelId}`);
  const hours = coarse === undefined ? {} : { coarse };
  const sums = { fingerprint: fingerprintOf(fine), ...(rowsSha256 === undefined ? {} : { rowsSha256 }) };
  return reviewedChannel({ ...asked, quantity, fine, ...hours, ...sums }, windows, zone);
};

const fingerprintOf = ({ atMs, mean }: ChannelReadings): string => {
  const hash = createHash('sha256');
  const numbers = new Float64Array(atMs.length);
  for (let n = 0; n < atMs.length; n += 1) numbers[n] = atMs[n] ?? 0;
  hash.update(numbers);
  for (let n = 0; n < mean.length; n += 1) numbers[n] = mean[n] ?? Number.NaN;
  hash.update(numbers);
  return hash.digest('hex');
};
