import type { HistoryTrouble } from '../../rules/words/history.js';
import type { TimeSpan } from '../journal/gateway-runs.js';
import { HOUR_MS } from '../journal/hour.js';
import { DAY_MS, dayOf } from '../journal/sealed-days.js';
import { bucketMsFor } from './buckets.js';
import { type FetchParts, fetchDay } from './fetch-day.js';
import { within } from './measured.js';
import type { GoneDay, OlderDays } from './older-days.js';
import type { Question } from './question.js';
import { readingsFor } from './review.js';
import type { Tracks } from './tracks.js';

/** Fetches what a question needs and what is not here; why it could not, if it could not. */
export type Bring = (question: Question) => Promise<HistoryTrouble | undefined>;

export type BringParts = FetchParts & {
  readonly older: OlderDays;
  readonly tracks: Pick<Tracks, 'of' | 'pieces'>;
  /** Milliseconds of any clock that only goes forward. */
  readonly ticks: () => number;
};

/** A question that would need more source-days one by one is answered from hours. */
const MOST_DAYS = 62;

/** An export takes so much at a time. */
export const PAGE_SPAN_MS = 2 * DAY_MS;

/** A database that did not answer is left alone for so long: charts must not wait for it one after the other. */
const QUIET_MS = 10_000;

export const buildBring = (parts: BringParts): Bring => {
  const { older, ticks } = parts;
  let away: { readonly trouble: HistoryTrouble; readonly untilTicks: number } | undefined;
  return async (question) => {
    for (const gone of neededBy(parts, question)) {
      if (away !== undefined && ticks() < away.untilTicks) return away.trouble;
      const fetched = await fetchDay(parts, gone);
      if (fetched.ok) older.keep(gone, fetched.value);
      else if (fetched.fault.code === 'incomplete') return fetched.fault;
      else away = { trouble: fetched.fault, untilTicks: ticks() + QUIET_MS };
    }
    return undefined;
  };
};

const neededBy = (parts: BringParts, question: Question): readonly GoneDay[] => {
  switch (question.ask) {
    case 'readings':
      return neededByReadings(parts, question);
    case 'trails': {
      const isByHours = question.stepMs % HOUR_MS === 0 && question.fromMs % HOUR_MS === 0;
      if (isByHours) return question.channelIds.flatMap((id) => neededToCompute(parts, id, question));
      const all = question.channelIds.flatMap((id) => missingOf(parts, id, question));
      return all.length > MOST_DAYS ? [] : all;
    }
    case 'rows':
      return missingOf(parts, question.channelId, {
        fromMs: question.fromMs,
        toMs: Math.min(question.toMs, question.fromMs + PAGE_SPAN_MS),
      });
    case 'review': {
      const { channelId, nowMs } = question;
      const { fine, coarse } = readingsFor(question);
      const spans = coarse === undefined ? [fine] : [fine, coarse];
      return spans.flatMap((span) => neededByReadings(parts, { ask: 'readings', channelId, nowMs, ...span }));
    }
    case 'close':
      return [];
  }
};

const neededByReadings = (
  parts: BringParts,
  { channelId, fromMs, toMs, points }: Extract<Question, { ask: 'readings' }>,
): readonly GoneDay[] => {
  const span = { fromMs, toMs };
  // What lies just outside tells whether a silence goes over the edge.
  const all = missingOf(parts, channelId, { fromMs: fromMs - HOUR_MS, toMs: toMs + HOUR_MS });
  const pieces = within(parts.tracks.pieces(channelId, span), span);
  const gone = pieces.flatMap((piece) => parts.older.gone(piece.sourceId, piece));
  const readings = gone.reduce((sum, day) => sum + day.readings, 0);
  const isByReadings = bucketMsFor(span, points) < HOUR_MS || readings <= points;
  if (isByReadings && all.length <= MOST_DAYS) return all;
  const edges = pieces.flatMap((piece) => [piece.fromMs, piece.toMs]).filter((edgeMs) => edgeMs % HOUR_MS !== 0);
  const days = new Set(edges.map(dayOf));
  const atEdges = all.filter(({ day }) => days.has(day)).slice(0, MOST_DAYS);
  return [...atEdges, ...neededToCompute(parts, channelId, span)];
};

/** The days of a computed channel's hours that nobody has asked for yet: however many, they are remembered then. */
const neededToCompute = (parts: BringParts, channelId: string, span: TimeSpan): readonly GoneDay[] => {
  const missing = missingOf(parts, channelId, { fromMs: span.fromMs - HOUR_MS, toMs: span.toMs });
  if (missing.length === 0) return [];
  const hours = parts.tracks.of(channelId, span).uncomputed(span);
  const days = new Set(hours.flatMap(({ fromMs }) => [dayOf(fromMs), dayOf(fromMs - HOUR_MS)]));
  return missing.filter(({ day }) => days.has(day));
};

const missingOf = ({ older, tracks }: BringParts, channelId: string, span: TimeSpan): readonly GoneDay[] =>
  within(tracks.pieces(channelId, span), span).flatMap((piece) => older.missing(piece.sourceId, piece));
