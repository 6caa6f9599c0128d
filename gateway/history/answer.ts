import { UNIT } from '../../rules/quantity.js';
import type { ReviewedChannel } from '../../rules/review/channel.js';
import type { ChannelReadings, Trails } from '../../rules/wire/api.js';
import type { Database } from '../journal/database.js';
import { prepareDowntimes, type TimeSpan } from '../journal/gateway-runs.js';
import { HOUR_MS } from '../journal/hour.js';
import { prepareLostBefore } from '../journal/retention.js';
import { bucketMsFor, buildBuckets } from './buckets.js';
import { buildGapFinder } from './gaps.js';
import { within } from './measured.js';
import type { OlderDays } from './older-days.js';
import type { Question, RowPage } from './question.js';
import type { Reasons } from './reasons.js';
import { type ReadingsAsked, rawSpanOf, readingsFor, reviewFrom } from './review.js';
import { addComputed, buildRowsSum } from './rows-sum.js';
import type { Sink, Track } from './track.js';
import type { Tracks } from './tracks.js';

export type Answers = {
  readings(question: Extract<Question, { ask: 'readings' }>): ChannelReadings;
  trails(question: Extract<Question, { ask: 'trails' }>): Trails;
  rows(question: Extract<Question, { ask: 'rows' }>): RowPage;
  review(question: Extract<Question, { ask: 'review' }>): ReviewedChannel;
};

/** Every answer is read in one transaction: a landing in between cannot show half an hour twice. */
export const prepareAnswers = (journal: Database, tracks: Tracks, older: Pick<OlderDays, 'missing'>): Answers => {
  const downtimes = prepareDowntimes(journal);
  const lostBeforeMs = prepareLostBefore(journal);
  const isMissing = (channelId: string, span: TimeSpan): boolean =>
    within(tracks.pieces(channelId, span), span).some((piece) => older.missing(piece.sourceId, piece).length > 0);
  const readings = (question: Extract<Question, { ask: 'readings' }>): ChannelReadings =>
    journal.transaction(() => {
      const { channelId, fromMs, toMs, nowMs } = question;
      const past = { fromMs, toMs: Math.max(fromMs, Math.min(toMs, nowMs)) };
      const { gateway, broker } = downtimes(past);
      const track = tracks.of(channelId, { fromMs, toMs });
      const hoursOnly = fromMs < lostBeforeMs() || isMissing(channelId, { fromMs, toMs });
      const reasons: Reasons = [
        { reason: 'no-source', spans: uncovered(track.covered, past) },
        { reason: 'gateway-down', spans: gateway },
        { reason: 'broker-down', spans: broker },
      ];
      return readingsOf(track, question, { past, reasons, hoursOnly });
    })();
  return {
    readings,
    trails: ({ channelIds, fromMs, toMs, stepMs }) =>
      journal.transaction(() => {
        const trail = (id: string) => [id, trailOf(tracks.of(id, { fromMs, toMs }), { fromMs, toMs }, stepMs)] as const;
        return { fromMs, toMs, stepMs, trails: Object.fromEntries(channelIds.map(trail)) };
      })(),
    rows: ({ channelId, fromMs, toMs }) => tracks.of(channelId, { fromMs, toMs }).page({ fromMs, toMs }),
    review: ({ ask: _, ...asked }) =>
      journal.transaction(() => {
        const { channelId, nowMs } = asked;
        const { fine, coarse } = readingsFor(asked);
        const read = (span: ReadingsAsked) => readings({ ask: 'readings', channelId, nowMs, ...span });
        const every = read(fine);
        const rawSpan = rawSpanOf(asked.windows);
        const sum = rowsSumOf(tracks.of(channelId, rawSpan), every, rawSpan);
        return reviewFrom(asked, every, coarse === undefined ? undefined : read(coarse), sum);
      })(),
  };
};

/** Undefined where not every reading is at hand: then nobody can say later whether they still are what they were. */
const rowsSumOf = (track: Track, every: ChannelReadings, span: TimeSpan): string | undefined => {
  if (every.bucketMs !== 0) return undefined;
  const sum = buildRowsSum();
  if (track.addRows === undefined) addComputed(sum, every, span);
  else track.addRows(span, sum);
  return sum.hex();
};

/** `hoursOnly`: the span begins where readings were dropped and their hours are left. */
type Circumstances = { readonly past: TimeSpan; readonly reasons: Reasons; readonly hoursOnly: boolean };

const readingsOf = (
  track: Track,
  { channelId, fromMs, toMs, points }: Extract<Question, { ask: 'readings' }>,
  { past, reasons, hoursOnly }: Circumstances,
): ChannelReadings => {
  const span = { fromMs, toMs };
  const few = !hoursOnly && track.count(span, points + 1) <= points;
  const bucketMs = few ? 0 : Math.max(bucketMsFor(span, points), hoursOnly ? HOUR_MS : 0);
  const buckets = buildBuckets(bucketMs, fromMs);
  const finder = buildGapFinder();
  track.walk(span, bucketMs >= HOUR_MS, both(buckets, finder));
  const gaps = finder.gaps({
    span: past,
    lastBeforeMs: track.lastBefore(fromMs),
    firstFromMs: past.toMs === toMs ? track.firstFrom(toMs) : undefined,
    periodMs: track.periodMs,
    reasons,
  });
  const { quantity } = track;
  return { channelId, quantity, unit: UNIT[quantity], fromMs, toMs, bucketMs, ...buckets.columns(), gaps };
};

const both = (one: Sink, other: Sink): Sink => ({
  reading: (atMs, value, use) => {
    one.reading(atMs, value, use);
    other.reading(atMs, value, use);
  },
  lump: (lump) => {
    one.lump(lump);
    other.lump(lump);
  },
});

const uncovered = (covered: readonly TimeSpan[], { fromMs, toMs }: TimeSpan): readonly TimeSpan[] => {
  const starts = [fromMs, ...covered.map((span) => span.toMs)];
  const ends = [...covered.map((span) => span.fromMs), toMs];
  return starts.flatMap((start, index) => {
    const end = ends[index] ?? toMs;
    return start < end ? [{ fromMs: start, toMs: end }] : [];
  });
};

/** Whole hours only where steps are made of them: else an hour would fall into one of its steps. */
const trailOf = (track: Track, span: TimeSpan, stepMs: number): readonly (number | null)[] => {
  const steps = Math.max(0, Math.ceil((span.toMs - span.fromMs) / stepMs));
  const sums = Array.from({ length: steps }, () => ({ usable: 0, sum: 0 }));
  const add = (atMs: number, usable: number, mean: number): void => {
    const step = sums[Math.floor((atMs - span.fromMs) / stepMs)];
    if (step === undefined) return;
    step.usable += usable;
    step.sum += usable * mean;
  };
  track.walk(span, stepMs % HOUR_MS === 0 && span.fromMs % HOUR_MS === 0, {
    reading: (atMs, value) => {
      if (value !== undefined) add(atMs, 1, value);
    },
    lump: ({ firstMs, usable, water }) => {
      if (water !== undefined) add(firstMs, usable, water.mean);
    },
  });
  return sums.map(({ usable, sum }) => (usable === 0 ? null : sum / usable));
};
