import type { Entry } from '../../rules/log/entry.js';
import { fault, ok, type Result } from '../../rules/result.js';
import type { ReviewedChannel } from '../../rules/review/channel.js';
import type { Span } from '../../rules/review/piece.js';
import { type Review, type ReviewFacts, reviewOf } from '../../rules/review/review.js';
import { type Onset, onsetOf, reviewWindows, widest } from '../../rules/review/window.js';
import type { LogLine } from '../../rules/wire/log.js';
import type { NewReview } from '../../rules/wire/review.js';
import { lineOf, replacedIn } from '../http/log-lines.js';
import type { AppParts } from '../http/parts.js';
import { rulingPlaces } from '../settings.js';
import { channelsOf, type ReviewedPlace, reviewChannel, reviewedPlaces, workSpan } from './channels.js';
import { recordOf } from './record.js';
import { batchBeganMs, patternTanks } from './tanks.js';

export type ReviewParts = Pick<AppParts, 'journal' | 'history' | 'log' | 'desk' | 'clock' | 'watchkeeper'>;
export type ReviewFault = 'review-without-tanks' | 'review-without-deaths' | 'review-out-of-order';
/** A phone's clock may be this far ahead. */
const AHEAD_MS = 5 * 60_000;

const DAY_MS = 86_400_000;

type Begun = { readonly affected: readonly string[]; readonly onset: Onset };

/** Which tanks, and when: what a person said goes before what the entries say. */
const begin = (entries: readonly Entry[], wanted: NewReview, nowMs: number): Result<Begun, ReviewFault> => {
  const entry = entries.find(({ id }) => id === wanted.entryId);
  const told = entry?.placeId === undefined ? [] : [entry.placeId];
  const affected = [...new Set([...told, ...wanted.tanks])];
  if (affected.length === 0) return fault('review-without-tanks');
  const deadMs = wanted.deadMs ?? (wanted.start === 'larvae-on-bottom' ? entry?.atMs : undefined);
  const last = entries.findLast(({ kind, placeId }) => kind === 'deaths' && affected.includes(placeId ?? ''));
  const sinceMs = (deadMs ?? entry?.atMs ?? last?.atMs ?? 0) - DAY_MS;
  const found = onsetOf(entries, { placeIds: affected, sinceMs, ...(deadMs === undefined ? {} : { deadMs }) });
  if (found === undefined) return fault('review-without-deaths');
  const { aliveMs } = wanted;
  const isLate = found.certainDeadMs > nowMs + AHEAD_MS;
  if (isLate || (aliveMs !== undefined && aliveMs >= found.certainDeadMs)) return fault('review-out-of-order');
  return ok({ affected, onset: aliveMs === undefined ? found : { ...found, certainAliveMs: aliveMs } });
};

const entriesOf = ({ journal, log }: ReviewParts, placeIds: readonly string[], span: Span): readonly LogLine[] => {
  const replaced = replacedIn(log.record());
  return journal.log
    .between(span.fromMs, span.toMs)
    .filter(({ placeId }) => placeId === undefined || placeIds.includes(placeId))
    .map((row) => lineOf(row, replaced));
};

export type Frame = Pick<ReviewFacts, 'windows' | 'tanks' | 'onset'> & { readonly reviewed: readonly ReviewedPlace[] };

/** Channel after channel, so that fourteen days of a hatchery never lie in memory together. */
export const reviewChannels = async (
  parts: ReviewParts,
  { windows, reviewed }: Pick<Frame, 'windows' | 'reviewed'>,
): Promise<readonly ReviewedChannel[]> => {
  const { journal, log, desk, clock, watchkeeper } = parts;
  const { zone } = desk.site().site.body;
  const { work } = log.record();
  const computed = [...watchkeeper.state().plan.channelOf.keys()].filter((id) => id.endsWith('~computed'));
  const channels: ReviewedChannel[] = [];
  for (const place of reviewed) {
    for (const channelId of channelsOf(journal, computed, place.placeId, widest(windows))) {
      channels.push(await reviewChannel(parts, { ...place, channelId, windows, work, zone, nowMs: clock.now() }));
    }
  }
  return channels;
};

/** Everything about the tanks as the record stands now. Nothing is kept by it. */
export const gatherReview = async (
  parts: ReviewParts,
  wanted: NewReview,
  { id, by }: { readonly id: string; readonly by: string },
): Promise<Result<Review, ReviewFault>> => {
  const { journal, log, desk, clock } = parts;
  const record = log.record();
  const sequence = journal.sequence();
  const begun = begin(record.ruling.entries, wanted, clock.now());
  if (!begun.ok) return begun;
  const { affected, onset } = begun.value;
  const places = rulingPlaces(journal, onset.certainDeadMs).map(({ body }) => body);
  if (!affected.every((id) => places.some((place) => place.id === id))) return fault('review-without-tanks');
  const { zone } = desk.site().site.body;
  const tanks = patternTanks({ places, record, affected, atMs: onset.certainDeadMs, zone });
  const batches = tanks.filter((tank) => tank.affected).flatMap((tank) => tank.batches);
  const windows = reviewWindows(onset, batchBeganMs(record, batches));
  const reviewed = reviewedPlaces(tanks);
  const span = { fromMs: widest(windows).fromMs, toMs: clock.now() };
  const placeIds = reviewed.map(({ placeId }) => placeId);
  const channels = await reviewChannels(parts, { windows, reviewed });
  const isNear = (one: Span): boolean => one.fromMs < onset.certainDeadMs && one.toMs > span.fromMs;
  return ok(
    reviewOf({
      ...{ id, by, sequence, onset, windows, tanks, places, channels },
      start: wanted.start,
      ...(wanted.entryId === undefined ? {} : { entryId: wanted.entryId }),
      ...(wanted.remark === undefined ? {} : { remark: wanted.remark }),
      ...(wanted.editionOf === undefined ? {} : { editionOf: wanted.editionOf }),
      frozenMs: clock.now(),
      work: record.work.filter((work) => placeIds.includes(work.placeId) && isNear(workSpan(work))),
      alarms: journal.alarms
        .between(span.fromMs, onset.certainDeadMs)
        .filter(({ finding }) => placeIds.includes(finding.placeId)),
      lines: entriesOf(parts, placeIds, span),
      record: recordOf(journal, { placeIds, channelIds: channels.map(({ channelId }) => channelId), span }),
    }),
  );
};
