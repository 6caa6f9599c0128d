import type { ReviewedChannel } from '../../rules/review/channel.js';
import type { Span } from '../../rules/review/piece.js';

const HOUR_MS = 3_600_000;
const DAY_MS = 24 * HOUR_MS;

/** What a wide screen can tell apart. */
const POINTS = 700;

/**
 * How many points of each channel a span is drawn from. Longer than a week it is whole hours, whose least and greatest the
 * gateway has at hand: a fortnight of fifty channels is then there at once, and a spike is in it.
 */
export const stripPoints = ({ fromMs, toMs }: Span): number => {
  const lengthMs = toMs - fromMs;
  return lengthMs > 7 * DAY_MS ? Math.ceil(lengthMs / HOUR_MS) + 1 : POINTS;
};

/** What is drawn first, and what is laid beside it when it has come. */
export const drawnFirst = (
  channels: readonly ReviewedChannel[],
): { readonly own: readonly string[]; readonly beside: readonly string[] } => {
  const ids = (isOwn: boolean): readonly string[] =>
    channels.flatMap(({ channelId, part, readings }) =>
      (part !== 'unaffected') === isOwn && readings > 0 ? [channelId] : [],
    );
  return { own: ids(true), beside: ids(false) };
};
