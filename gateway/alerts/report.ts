import {
  type ChannelNight,
  type MorningReport,
  type MorningWaking,
  morningRows,
  type ScoredForecast,
  scoreForecast,
} from '../../rules/alerts/morning.js';
import { type Activation, type Aside, type Performance, performanceOf } from '../../rules/alerts/performance.js';
import { type Season, type SeasonEntry, seasonOf } from '../../rules/alerts/season.js';
import { hourOf } from '../../rules/alerts/watch-plan.js';
import { notWatchedList } from '../../rules/engine/not-watched.js';
import { channelPicture } from '../../rules/engine/picture.js';
import type { EngineState } from '../../rules/engine/state.js';
import type { History } from '../history/history.js';
import type { Journal } from '../journal/journal.js';
import type { WakingEntry } from '../journal/wakings.js';
import { datedWants } from '../reviews/wants.js';
import { watchAt } from './people.js';

export type ReportParts = {
  readonly journal: Pick<Journal, 'alarms' | 'wakings' | 'ladders' | 'settings'>;
  readonly history: Pick<History, 'readings'>;
  readonly state: () => EngineState;
  readonly now: () => number;
  readonly overdue: () => MorningReport['overdue'];
  readonly lacks: () => MorningReport['lacks'];
};

export type Reports = {
  /** The night, or any span, on one page. */
  morning(fromMs: number, toMs: number): Promise<MorningReport>;
  season(fromMs: number, toMs: number): Season;
  performance(fromMs: number, toMs: number): Performance;
};

const BUCKET_MS = 300_000;
const SHOWN = ['temperature', 'salinity', 'oxygen-saturation', 'level'] as const;

export const buildReports = (parts: ReportParts): Reports => ({
  morning: async (fromMs, toMs) => {
    const channels = await channelsOf(parts, fromMs, toMs);
    return {
      fromMs,
      toMs,
      rows: morningRows([...channels.values()]),
      wakings: wakingsOf(parts, fromMs, toMs),
      forecasts: forecastsOf(parts, channels, fromMs, toMs),
      overdue: parts.overdue(),
      notWatched: notWatchedList(parts.state()).map(({ channelId, why }) => ({ channelId, why })),
      lacks: parts.lacks(),
    };
  },
  season: (fromMs, toMs) => {
    const { zone } = parts.state().hatchery.site;
    const plan = watchAt(parts.journal, parts.now());
    return seasonOf(
      seasonEntries(parts.journal.wakings.between(fromMs, toMs)),
      (atMs) => hourOf(plan, atMs, zone) === 'night',
    );
  },
  performance: (fromMs, toMs) => {
    const asides = asidesOf(parts, fromMs, toMs);
    return performanceOf(activationsOf(parts, fromMs, toMs), { fromMs, toMs, asides });
  },
});

/** Tanks' channels that the report shows, each in buckets of five minutes. */
const channelsOf = async (
  { journal, history, state }: ReportParts,
  fromMs: number,
  toMs: number,
): Promise<ReadonlyMap<string, ChannelNight>> => {
  const now = state();
  const tanks = new Set(
    now.hatchery.places.filter(({ kind, stage }) => kind === 'tank' && stage !== 'empty').map(({ id }) => id),
  );
  const pictures = now.channels.map((_, index) => channelPicture(now, index));
  const shown = pictures.filter(({ placeId, quantity }) => tanks.has(placeId) && SHOWN.some((one) => one === quantity));
  const points = Math.max(1, Math.ceil((toMs - fromMs) / BUCKET_MS));
  const channels = new Map<string, ChannelNight>();
  for (const { id, placeId, quantity, computed } of shown) {
    const readings = await history.readings(id, fromMs, toMs, points);
    const followed = (other: string): number | undefined =>
      pictures.find((one) => one.placeId === other && one.quantity === quantity)?.value;
    const wants = datedWants(journal, { placeId, quantity, span: { fromMs, toMs } }, followed);
    channels.set(id, { placeId, quantity, computed, readings, wants, work: workAt(now, placeId) });
  }
  return channels;
};

/** Work of the last day at a place, from its beginning to its end. */
const workAt = ({ work, nowMs }: EngineState, place: string): ChannelNight['work'] =>
  work.flatMap(({ placeId, fromMs, endedMs = nowMs }) => (placeId === place ? [{ fromMs, toMs: endedMs }] : []));

const wakingsOf = ({ journal }: ReportParts, fromMs: number, toMs: number): readonly MorningWaking[] => {
  const entries = journal.wakings.between(fromMs, toMs);
  const faults = [...new Set(entries.filter(({ deed }) => deed.what === 'call').map(({ faultId }) => faultId))];
  return faults.flatMap((faultId) => {
    const [first] = entries.filter((entry) => entry.faultId === faultId);
    return first === undefined ? [] : [wakingOf(journal, faultId, first)];
  });
};

const wakingOf = (
  { wakings, alarms, ladders }: ReportParts['journal'],
  faultId: string,
  first: WakingEntry,
): MorningWaking => {
  const story = wakings.ofFault(faultId);
  const answer = story.find(({ deed }) => deed.what === 'answer');
  const judged = story.flatMap(({ deed }) => (deed.what === 'judged' ? [deed.real] : [])).at(-1);
  const standing = ladders.byId(faultId)?.ladder?.standing;
  return {
    faultId,
    placeId: first.placeId,
    condition: alarms.byId(faultId)?.finding.condition ?? '',
    atMs: first.atMs,
    calls: story.filter(({ deed }) => deed.what === 'call').length,
    ...(answer === undefined ? {} : { answeredMs: answer.atMs, answeredBy: answer.by }),
    ...(standing?.kind === 'ended' ? { endedMs: standing.atMs } : {}),
    ...(judged === undefined ? {} : { real: judged }),
  };
};

const forecastsOf = (
  { journal, now }: ReportParts,
  channels: ReadonlyMap<string, ChannelNight>,
  fromMs: number,
  toMs: number,
): readonly ScoredForecast[] =>
  journal.alarms.changesBetween(fromMs, toMs).flatMap(({ event, alarm: { finding } }) => {
    const { harm, line, channelId, placeId } = finding;
    const channel = channelId === undefined ? undefined : channels.get(channelId);
    if (event !== 'cond-on' || harm === undefined || line === undefined || channel === undefined) return [];
    return [scoreForecast({ placeId, line, harm }, channel.readings, now())];
  });

const seasonEntries = (entries: readonly WakingEntry[]): readonly SeasonEntry[] =>
  entries.flatMap(({ deed, faultId, atMs }): readonly SeasonEntry[] => {
    if (deed.what === 'call') return [{ what: 'call', faultId, atMs, messages: deed.messages }];
    if (deed.what === 'judged') return [{ what: 'judged', faultId, atMs, real: deed.real }];
    return deed.what === 'missed' ? [{ what: 'missed', atMs }] : [];
  });

/** Activations of a span, each with its first acknowledgement and its end. */
const activationsOf = ({ journal }: ReportParts, fromMs: number, toMs: number): readonly Activation[] => {
  const changes = journal.alarms.changesBetween(fromMs, toMs);
  return changes.flatMap(({ alarm, event, atMs, sequence }) => {
    if (event !== 'cond-on') return [];
    const later = changes.filter((change) => change.sequence > sequence && change.alarm.id === alarm.id);
    const acknowledged = later.find((change) => change.event === 'ack')?.atMs;
    const off = later.find((change) => change.event === 'cond-off' || change.event === 'retired')?.atMs;
    return [
      {
        tag: `${alarm.finding.condition} ${alarm.subject}`,
        priority: alarm.priority,
        onMs: atMs,
        ...(acknowledged === undefined ? {} : { acknowledgedMs: acknowledged }),
        ...(off === undefined ? {} : { offMs: off }),
      },
    ];
  });
};

/** What was put aside in a span, by whom, why and until when. */
const asidesOf = ({ journal }: ReportParts, fromMs: number, toMs: number): readonly Aside[] =>
  journal.alarms.changesBetween(fromMs, toMs).flatMap(({ event, alarm, by = alarm.inhibitBy }) => {
    if (event !== 'shelve' && event !== 'out-of-service') return [];
    const { inhibitReason: reason, inhibitUntilMs: untilMs } = alarm;
    return [
      {
        event,
        ...(by === undefined ? {} : { by }),
        ...(reason === undefined ? {} : { reason }),
        ...(untilMs === undefined ? {} : { untilMs }),
      },
    ];
  });
