import type { Span } from '../../rules/review/piece.js';
import { isPutAside, type Wholeness } from '../../rules/review/whole.js';
import type { Journal } from '../journal/journal.js';
import { PLACE } from '../settings.js';

/** What was done to the record itself in the span: calibrations, settings, alarms put aside, wrong clocks. */
export const recordOf = (
  journal: Pick<Journal, 'mappings' | 'calibrations' | 'settings' | 'alarms'>,
  { placeIds, channelIds, span }: { placeIds: readonly string[]; channelIds: readonly string[]; span: Span },
): Omit<Wholeness, 'channels'> => {
  const isIn = (atMs: number): boolean => atMs >= span.fromMs && atMs < span.toMs;
  const sources = journal.mappings.list().filter(({ channelId }) => channelIds.includes(channelId));
  const calibrations = journal.calibrations.list().flatMap(({ sourceId, fromMs, slope, offset, by }) => {
    const channelId = sources.find((mapping) => mapping.sourceId === sourceId)?.channelId;
    if (channelId === undefined || !isIn(fromMs)) return [];
    return [{ channelId, fromMs, slope, offset, ...(by === undefined ? {} : { by }) }];
  });
  const changes = placeIds.flatMap((id) =>
    journal.settings
      .history(PLACE, id)
      .filter(({ recordedMs }) => isIn(recordedMs))
      .map(({ recordedMs, by }) => ({ atMs: recordedMs, what: id, by })),
  );
  const putAside = journal.alarms
    .changesBetween(span.fromMs, span.toMs)
    .filter(({ event, alarm }) => isPutAside(event) && placeIds.includes(alarm.finding.placeId))
    .map(({ atMs, alarm, event, by }) => ({ atMs, alarm, event, ...(by === undefined ? {} : { by }) }));
  const clocks = journal.alarms
    .between(span.fromMs, span.toMs)
    .filter(({ finding }) => finding.condition === 'clock-wrong');
  return { calibrations, changes: changes.toSorted((a, b) => a.atMs - b.atMs), putAside, clocks };
};
