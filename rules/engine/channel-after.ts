import type { ChannelNow } from './now.js';

const THIN_MS = 60_000;
const RECENT_MS = 60 * 60_000;

const thinned = (recent: ChannelNow['recent'], atMs: number, value: number): ChannelNow['recent'] => {
  const last = recent[recent.length - 1];
  if (last !== undefined && atMs - last[0] < THIN_MS) return recent;
  const first = recent.findIndex(([time]) => time > atMs - RECENT_MS);
  return [...(first > 0 ? recent.slice(first) : first < 0 ? [] : recent), [atMs, value]];
};

/** The channel after one more reading. What cannot be water leaves the last value standing and says since when. */
export const channelAfter = (
  before: ChannelNow,
  atMs: number,
  value: number,
  bad: boolean,
  periodMs: number | undefined,
): ChannelNow => {
  const { badMs, periodMs: _, ...rest } = before;
  const period = periodMs === undefined ? {} : { periodMs };
  if (bad) return { ...rest, ...period, badMs: badMs ?? atMs };
  return { ...rest, ...period, value, atMs, recent: thinned(before.recent, atMs, value) };
};
