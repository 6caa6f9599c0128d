import { parseChannelId } from '../channel.js';
import type { CannotSay } from '../review/cannot-say.js';
import type { FirstMover, Moved } from '../review/first-mover.js';
import type { Figure, LaterEdit } from '../review/later.js';
import type { Pattern, Shared, SharedKind } from '../review/pattern.js';
import type { Onset, WindowName } from '../review/window.js';
import { isStage } from '../stage/stage.js';
import { clockWords, dateWords, durationWords } from './clock.js';
import type { LogReader } from './entry.js';
import { capital, namesFor } from './name.js';
import { numberWords, valueWords } from './number.js';

const HOUR_MS = 3_600_000;

/** Before the deaths began; the interval in which they began belongs to each. */
export const WINDOW_WORDS: Readonly<Record<WindowName, string>> = {
  '24h': '24 hours before',
  '72h': '72 hours before',
  '14d': '14 days before',
  batch: 'life of the batch',
};

const KIND_WORDS: Readonly<Record<SharedKind, string>> = {
  line: 'supply line',
  'air-main': 'air main',
  circuit: 'power circuit',
  room: 'room',
  batch: 'batch',
  stage: 'stage',
  person: 'person',
  day: 'day of work',
};

const ON: Readonly<Record<SharedKind, string>> = {
  line: 'on',
  'air-main': 'on',
  circuit: 'on',
  room: 'in',
  batch: 'of batch',
  stage: 'in stage',
  person: 'where something was written by',
  day: 'with work on',
};

/** `Tue 14 Jul, 02:10` */
export const whenWords = (atMs: number, reader: LogReader): string =>
  `${dateWords(atMs, reader)}, ${clockWords(atMs, reader)}`;

/** `N1 temperature` */
export const channelName = (channelId: string, reader: LogReader): string => {
  const address = parseChannelId(channelId);
  if (address === undefined) return channelId;
  const { placeId, quantity, position, computed } = address;
  const name = `${reader.placeName(placeId)} ${namesFor(reader).quantity[quantity]}`;
  return `${name}${position === undefined ? '' : ` ${position}`}${computed === true ? ', computed' : ''}`;
};

/** `4 of 5 on Warm line, 0 of 6 elsewhere` */
export const sharedWords = (shared: Shared, reader: LogReader): string => {
  const { affectedOn, of, affectedElsewhere, ofElsewhere } = shared;
  const elsewhere =
    ofElsewhere === 0 ? 'and no other tank to compare with' : `${affectedElsewhere} of ${ofElsewhere} elsewhere`;
  return `${affectedOn} of ${of} ${ON[shared.kind]} ${sharedName(shared, reader)}, ${elsewhere}`;
};

export const sharedName = ({ kind, id }: Pick<Shared, 'kind' | 'id'>, reader: LogReader): string => {
  if (kind === 'line' || kind === 'air-main' || kind === 'circuit' || kind === 'room') return reader.placeName(id);
  if (kind === 'stage') return isStage(id) ? namesFor(reader).stage[id] : id;
  return kind === 'day' ? dateWords(Number(id), reader) : id;
};

export const sharedKindWords = (kind: SharedKind): string => KIND_WORDS[kind];

/** The onset as an interval, in one sentence. */
export const onsetWords = ({ certainAliveMs, certainDeadMs }: Onset, reader: LogReader): string => {
  const dead = whenWords(certainDeadMs, reader);
  if (certainAliveMs === undefined)
    return `First certain deaths ${dead}. No entry says when they were last seen alive, so the deaths may have begun at any time before.`;
  const length = durationWords(certainDeadMs - certainAliveMs, reader);
  return `The deaths began between ${whenWords(certainAliveMs, reader)}, when they were last known alive, and ${dead}: an interval of ${length}.`;
};

export const patternSentence = ({ along, affected, of }: Pattern, reader: LogReader): string => {
  if (of === 1) return 'The only tank with animals is affected: there is no unaffected tank to compare with.';
  if (affected === of) return `All ${of} tanks with animals are affected: there is no unaffected tank to compare with.`;
  if (along === undefined)
    return `${affected} of ${of} tanks are affected. They follow no supply more than the others do.`;
  return `Affected tanks follow the ${KIND_WORDS[along.kind]}: ${sharedWords(along, reader)}.`;
};

/** What a chance is worth with so few tanks. */
export const chanceWords = ({ association, affectedOn }: Shared): string | undefined =>
  association === undefined || affectedOn === 0
    ? undefined
    : `chance alone: ${association.pOneSided < 0.001 ? 'less than 1 in 1000' : `about 1 in ${Math.max(1, Math.round(1 / association.pOneSided))}`}`;

const movedWhen = ({ fromMs, toMs }: Moved, reader: LogReader): string =>
  toMs - fromMs < 60_000
    ? whenWords(toMs, reader)
    : `between ${whenWords(fromMs, reader)} and ${clockWords(toMs, reader)}`;

/** `Warm line temperature left 22.0 °C Tue 14 Jul, 02:10; farthest 32.1 °C at 05:00` */
export const movedWords = (moved: Moved, reader: LogReader): string => {
  const quantity = parseChannelId(moved.channelId)?.quantity ?? 'temperature';
  const usual = valueWords(quantity, moved.usual, reader);
  const far = `farthest ${valueWords(quantity, moved.farthest.value, reader)} at ${clockWords(moved.farthest.atMs, reader)}`;
  return `${channelName(moved.channelId, reader)} left its usual ${usual} ${movedWhen(moved, reader)}; ${far}`;
};

export const firstMoverSentence = ({ first, together, supplyFirst }: FirstMover, reader: LogReader): string => {
  if (first === undefined)
    return 'No channel of the affected tanks or their supplies left its usual range in the 72 hours before.';
  const others =
    together.length === 0
      ? ''
      : ` Not to be told apart from it: ${together.map(({ channelId }) => channelName(channelId, reader)).join(', ')}.`;
  const order =
    supplyFirst === undefined
      ? ''
      : supplyFirst
        ? ' The supply moved before every affected tank did.'
        : ' A tank moved before any supply did.';
  return `First to move: ${movedWords(first, reader)}.${order}${others}`;
};

const placeNames = (ids: readonly string[], reader: LogReader): string => ids.map(reader.placeName).join(', ');
const channelNames = (ids: readonly string[], reader: LogReader): string =>
  ids.map((id) => channelName(id, reader)).join(', ');
const length = (hours: number, reader: LogReader): string => durationWords(hours * HOUR_MS, reader);

const GENERAL: Readonly<Record<string, string>> = {
  'no-proof-of-life': 'When the animals were last alive: no count and no sheet says so.',
  'no-cause': 'It cannot name a cause. It can exclude, or fail to exclude, and show what came first.',
  'probe-place': '“Within limits” is about the place of the probe: not the corner, the floor or the bed.',
  'no-alarm-no-proof':
    'That no alarm sounded does not mean that nothing happened: no rule, no reading, put aside, late, or a probe in air.',
  'nothing-living-measured':
    'Bacteria, virus, toxin, metals, ammonia and the quality of food: nothing here measures them, and filtered water can carry them.',
  'log-silence': 'That nobody wrote something down does not mean that nobody did it.',
  'counts-are-intervals': 'Counts cannot show a loss smaller than their own interval.',
  'settles-nothing':
    'It is evidence only as far as later edits are visible, and by itself settles no blame, insurance or law.',
};

/** What this record cannot say, in sentences. The same said of several channels is said once: their names stand together. */
export const cannotSayLines = (all: readonly CannotSay[], reader: LogReader): readonly string[] => {
  const together = new Map<string, { readonly one: CannotSay; readonly channelIds: string[] }>();
  for (const one of all) {
    const channelId = 'channelId' in one ? one.channelId : undefined;
    const key = saidOf(one, '', reader);
    const same = together.get(key);
    if (same === undefined) together.set(key, { one, channelIds: channelId === undefined ? [] : [channelId] });
    else if (channelId !== undefined) same.channelIds.push(channelId);
  }
  return [...together.values()].map(({ one, channelIds }) => saidOf(one, channelNames(channelIds, reader), reader));
};

/** `names`: of the channels that it is said of. */
const saidOf = (one: CannotSay, names: string, reader: LogReader): string => {
  switch (one.code) {
    case 'onset-wide':
      return `When within ${length(one.hours, reader)} the deaths began.`;
    case 'not-measured':
      return `${capital(namesFor(reader).quantity[one.quantity])} was not measured in ${placeNames(one.placeIds, reader)}.`;
    case 'no-probe-in-bed':
      return `No probe lay in the bed of ${placeNames(one.placeIds, reader)}: what the animals in it breathed is not known.`;
    case 'silent':
      return `What happened in ${length(one.hours, reader)} of the 72 hours (${namesFor(reader).gap[one.reason]}): ${names}.`;
    case 'never-read':
      return `Anything about ${names}: not one reading in this span.`;
    case 'only-hours':
      return `What lasted minutes, except by the peaks: only hours are kept of that time (${names}).`;
    case 'no-limit':
      return `By alarms anything about ${names}: without a limit none could sound.`;
    case 'limit-not-confirmed':
      return `Whether the limit was right: it is the profile's, not confirmed by the hatchery (${names}).`;
    case 'put-aside':
      return `What would have sounded while alarms were put aside (${one.times} times in this span).`;
    case 'clock-wrong':
      return `The order of events closer than the drift of a clock: boards had a wrong clock (${one.times} alarms).`;
    case 'order-unsettled':
      return `Which of these moved first: ${channelNames(one.channelIds, reader)}.`;
    case 'oxygen-may-follow':
      return `Whether the fall of oxygen came before the deaths or from them: dying animals take oxygen (${channelNames(one.channelIds, reader)}).`;
    case 'rivals':
      return `Whether it is the supply: ${one.kinds.map((kind) => KIND_WORDS[kind]).join(', ')} run along the same tanks.`;
    case 'few-tanks':
      return `Much from a comparison of ${one.of === 1 ? '1 tank' : `${one.of} tanks`}: the counts are shown, and a chance is a courtesy.`;
    case 'alarms-are-no-proof':
      return `That an alarm at the same time (${one.alarms} in this span) has to do with it: most days have alarms.`;
    default:
      return GENERAL[one.code] ?? one.code;
  }
};

export const FIGURE_WORDS: Readonly<Record<Figure, string>> = {
  lowest: 'lowest',
  highest: 'highest',
  mean: 'mean',
  measuredH: 'hours measured',
  hoursBeyondLimit: 'hours beyond limit',
  degreeHoursBeyondLimit: 'degree-hours beyond limit',
};

/** What was written or set after the freezing, in one line. */
export const laterWords = (edit: LaterEdit, reader: LogReader): string => {
  const when = whenWords(edit.recordedMs, reader);
  switch (edit.kind) {
    case 'entry':
      return `${when}: ${edit.by} wrote an entry about ${whenWords(edit.atMs, reader)}`;
    case 'corrected-entry':
      return `${when}: ${edit.by} corrected an entry about ${whenWords(edit.atMs, reader)}`;
    case 'struck-entry':
      return `${when}: ${edit.by} took an entry back`;
    case 'calibration':
      return `${when}: ${edit.by} corrected a calibration of ${edit.what}`;
    case 'naming':
      return `${when}: ${edit.by} named a probe anew (${edit.what})`;
    case 'place':
      return `${when}: ${edit.by} changed ${edit.what}`;
  }
};

/** `22.1 °C`, or a dash where there is none. */
export const figureWords = (channelId: string, value: number | undefined, reader: LogReader): string => {
  const quantity = parseChannelId(channelId)?.quantity;
  return value === undefined || quantity === undefined ? '–' : numberWords(quantity, value, reader);
};
