import type { AlarmPicture } from '../../rules/alarm/alarm.js';
import type { Beat, Change } from '../../rules/wire/feed.js';
import type { BoardPicture, ChannelPicture } from '../../rules/wire/picture.js';
import type { LandedNews } from '../watchkeeper-contract.js';

/** What moved since the last beat, the newest of each: however fast readings come, a beat is at most the whole room. */
export type Gathering = {
  gather(news: LandedNews): void;
  /** An alarm's own change has gone out: what a beat held of it is old. */
  forgetAlarmsOf(changes: readonly Change[]): void;
  /** What has gathered, and begins anew; undefined when nothing moved. */
  beat(): { readonly channels?: Beat; readonly boards?: readonly BoardPicture[] } | undefined;
};

export const buildGathering = (): Gathering => {
  const channels = new Map<string, ChannelPicture>();
  const alarms = new Map<string, AlarmPicture>();
  let boards: readonly BoardPicture[] | undefined;
  let readings = 0;
  let atMs = 0;
  return {
    gather: (news) => {
      for (const channel of news.channels) channels.set(channel.id, channel);
      for (const alarm of news.alarms) alarms.set(alarm.id, alarm);
      boards = news.boards ?? boards;
      readings += news.readings;
      atMs = news.atMs;
    },
    forgetAlarmsOf: (changes) => {
      for (const change of changes) if (change.kind === 'alarm') alarms.delete(change.alarm.id);
    },
    beat: () => {
      const moved = channels.size > 0 || alarms.size > 0 || readings > 0;
      const beat: Beat = { atMs, readings, channels: [...channels.values()], alarms: [...alarms.values()] };
      const said = boards;
      if (!moved && said === undefined) return undefined;
      channels.clear();
      alarms.clear();
      boards = undefined;
      readings = 0;
      return { ...(moved ? { channels: beat } : {}), ...(said === undefined ? {} : { boards: said }) };
    },
  };
};
