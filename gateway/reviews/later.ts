import type { LaterEdit } from '../../rules/review/later.js';
import { changedChannels } from '../../rules/review/later.js';
import type { Review } from '../../rules/review/review.js';
import { widest } from '../../rules/review/window.js';
import type { Change } from '../../rules/wire/feed.js';
import type { ReviewDifferences } from '../../rules/wire/review.js';
import type { Journal } from '../journal/journal.js';
import { entryFrom } from '../log-desk.js';
import { type ReviewParts, reviewChannels } from './gather.js';
import { buildLate } from './late-readings.js';

const HOUR_MS = 3_600_000;

const SETTINGS = { calibration: 'calibration', mapping: 'naming', place: 'place' } as const;
const isSetting = (text: string): text is keyof typeof SETTINGS => Object.hasOwn(SETTINGS, text);

/** What people wrote or set about a review's tanks and time after it was frozen, in the order in which they did. */
export const laterEdits = (
  journal: Pick<Journal, 'changesSince' | 'log' | 'mappings'>,
  review: Review,
): readonly LaterEdit[] => {
  const placeIds = new Set(review.channels.map(({ placeId }) => placeId));
  const channels = new Set(review.channels.map(({ channelId }) => channelId));
  const sources = new Set(
    journal.mappings
      .list()
      .filter(({ channelId }) => channels.has(channelId))
      .map(({ sourceId }) => String(sourceId)),
  );
  const edits = journal.changesSince(review.sequence).map((change) => {
    if (change.kind === 'log') return entryEdit(journal, change, review, placeIds);
    return change.kind === 'settings' ? settingEdit(change, { placeIds, sources }) : undefined;
  });
  return edits.filter((edit) => edit !== undefined);
};

type OfKind<K extends Change['kind']> = Extract<Change, { readonly kind: K }>;

const entryEdit = (
  { log }: Pick<Journal, 'log'>,
  { entryId, atMs: recordedMs }: OfKind<'log'>,
  review: Review,
  placeIds: ReadonlySet<string>,
): LaterEdit | undefined => {
  const row = log.byId(entryId);
  if (row === undefined) return undefined;
  const { kind, corrects, placeId, atMs, by } = entryFrom(row);
  const isFrozen = review.lines.some(({ entry }) => entry.id === corrects);
  const { fromMs } = widest(review.windows);
  const isHere = placeId !== undefined && placeIds.has(placeId) && atMs >= fromMs && atMs <= review.frozenMs;
  if (!isFrozen && !isHere) return undefined;
  const what = kind === 'struck' ? 'struck-entry' : corrects === undefined ? 'entry' : 'corrected-entry';
  return { kind: what, recordedMs, atMs, entryId, by };
};

const settingEdit = (
  { what, by, atMs: recordedMs }: OfKind<'settings'>,
  known: { readonly placeIds: ReadonlySet<string>; readonly sources: ReadonlySet<string> },
): LaterEdit | undefined => {
  const [entity = '', id = ''] = what.split('/');
  if (!isSetting(entity)) return undefined;
  const isOurs = entity === 'place' ? known.placeIds.has(id) : known.sources.has(id);
  return isOurs ? { kind: SETTINGS[entity], recordedMs, what: id, by } : undefined;
};

/** The figures as the record gives them now, beside those of the frozen review. */
export const differencesOf = async (parts: ReviewParts, review: Review): Promise<ReviewDifferences> => {
  const places = new Map(review.channels.map(({ placeId, part }) => [placeId, part]));
  const reviewed = [...places].map(([placeId, part]) => ({ placeId, part }));
  const now = await reviewChannels(parts, { windows: review.windows, reviewed });
  const fine = widest(review.windows.filter(({ name }) => name !== 'batch'));
  const channels: ReviewDifferences['channels'][number][] = [];
  for (const changed of changedChannels(review.channels, now)) {
    const late = buildLate(review.frozenMs);
    for await (const rows of parts.history.rows(changed.channelId, fine.fromMs - HOUR_MS, fine.toMs)) {
      for (const row of rows) late.add(row);
    }
    const { lateReadings, lastArrivalMs } = late.told();
    channels.push({ ...changed, lateReadings, ...(lastArrivalMs === undefined ? {} : { lastArrivalMs }) });
  }
  return { lookedMs: parts.clock.now(), channels };
};
