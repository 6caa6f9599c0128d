import type { AlarmPicture } from '../../rules/alarm/alarm.js';
import type { Priority } from '../../rules/conditions/finding.js';
import { hasLine } from '../../rules/quantity.js';
import type { ServerEvents } from '../../rules/wire/feed.js';
import type { ChannelPicture, Picture } from '../../rules/wire/picture.js';

/** What the gateway said, as a value: one union for every event of the feed. */
export type ServerEvent = {
  [Kind in keyof ServerEvents]: { readonly kind: Kind; readonly body: Parameters<ServerEvents[Kind]>[0] };
}[keyof ServerEvents];

/** The room after one more word from the gateway. Pure: the same picture and event give the same picture. */
export const applied = (picture: Picture | undefined, event: ServerEvent): Picture | undefined => {
  if (event.kind === 'picture') return event.body;
  if (picture === undefined) return undefined;
  switch (event.kind) {
    case 'hello':
      return picture;
    case 'channels':
      return withChannels(picture, event.body);
    case 'places':
      return { ...picture, places: event.body };
    case 'boards':
      return { ...picture, boards: event.body };
    case 'link':
      return { ...picture, link: event.body };
    case 'change':
      return withChange(picture, event.body);
    case 'life': {
      const { nowMs, lastReadingMs } = event.body;
      return lastReadingMs === undefined ? { ...picture, atMs: nowMs } : { ...picture, atMs: nowMs, lastReadingMs };
    }
  }
};

const withChannels = (picture: Picture, beat: Parameters<ServerEvents['channels']>[0]): Picture => {
  const moved = new Map(beat.channels.map((channel) => [channel.id, channel]));
  const kept = picture.channels.map((channel) => {
    const now = moved.get(channel.id);
    moved.delete(channel.id);
    return now ?? channel;
  });
  const alarms = beat.alarms.length === 0 ? picture.alarms : withMoved(picture.alarms, beat.alarms);
  return { ...picture, atMs: beat.atMs, channels: [...kept, ...moved.values()], alarms };
};

/** A finding that moved is shown on the alarm that is open; a beat opens and ends none, the journal does. */
const withMoved = (alarms: readonly AlarmPicture[], moved: readonly AlarmPicture[]): readonly AlarmPicture[] => {
  const byId = new Map(moved.map((alarm) => [alarm.id, alarm]));
  return alarms.map((alarm) => byId.get(alarm.id) ?? alarm);
};

/** A change that the picture already holds is not applied twice; those after it keep the journal's order. */
const withChange = (picture: Picture, change: Parameters<ServerEvents['change']>[0]): Picture => {
  if (change.sequence <= picture.sequence) return picture;
  const later = { ...picture, sequence: change.sequence };
  return change.kind === 'alarm' ? { ...later, alarms: withAlarm(picture.alarms, change.alarm) } : later;
};

const withAlarm = (alarms: readonly AlarmPicture[], alarm: AlarmPicture): readonly AlarmPicture[] => {
  const others = alarms.filter(({ id }) => id !== alarm.id);
  return alarm.state === 'normal' ? others : [...others, alarm];
};

const RANK: { readonly [priority in Priority]: number } = { high: 0, medium: 1, low: 2 };

/** Worst first: priority, then time to harm (none is last), then the older, then the id so that the order never flickers. */
export const worstFirst = (a: AlarmPicture, b: AlarmPicture): number =>
  RANK[a.priority] - RANK[b.priority] ||
  harmOrder(a, b) ||
  a.activatedMs - b.activatedMs ||
  (a.id < b.id ? -1 : a.id > b.id ? 1 : 0);

const harmOrder = (a: AlarmPicture, b: AlarmPicture): number => {
  const [soonerA, soonerB] = [a.finding.harm?.atMs, b.finding.harm?.atMs];
  if (soonerA === undefined) return soonerB === undefined ? 0 : 1;
  return soonerB === undefined ? -1 : soonerA - soonerB;
};

/** Alarms that a person must answer or has in hand, worst first; inhibited ones are counted elsewhere. */
export const openAlarms = (alarms: readonly AlarmPicture[]): readonly AlarmPicture[] =>
  alarms.filter(({ state, inhibit }) => state !== 'normal' && inhibit === undefined).toSorted(worstFirst);

/** Whether somebody has taken it: the diamond is hollow from then on. */
export const isAnswered = ({ state }: AlarmPicture): boolean => state === 'ack' || state === 'latched-ack';

/** Advice does not wake: low priority is told in ink, not in the alarm's colour. */
export const isLoud = ({ priority }: AlarmPicture): boolean => priority !== 'low';

export const isWatched = ({ notWatched }: ChannelPicture): boolean => notWatched === undefined;
/** What a limit could be set for, and would wake nobody now. */
export const wakesNobody = (channel: ChannelPicture): boolean => hasLine(channel.quantity) && !isWatched(channel);
