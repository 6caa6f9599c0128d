import type { ChannelNow, HourRow, HourSoFar } from './now.js';

const THIN_MS = 60_000;
const RECENT_MS = 60 * 60_000;
const HOUR_MS = 3_600_000;
/** A day, and the hour more that a tide is late each day. */
const HOURS_KEPT = 26;

const thinned = (recent: ChannelNow['recent'], atMs: number, value: number): ChannelNow['recent'] => {
  let first = 0;
  while (first < recent.length && (recent[first]?.[0] ?? atMs) <= atMs - RECENT_MS) first += 1;
  const kept = recent.slice(first);
  kept.push([atMs, value]);
  return kept;
};

type Hours = { readonly hours: readonly HourRow[]; readonly hour: HourSoFar };

const rowOf = ({ startMs, low, sum, count, high }: HourSoFar): HourRow => [startMs, low, sum / count, high];

const counted = ({ hours, hour }: Pick<ChannelNow, 'hours' | 'hour'>, atMs: number, value: number): Hours => {
  const startMs = Math.floor(atMs / HOUR_MS) * HOUR_MS;
  if (hour?.startMs === startMs) {
    const { low, high, sum, count } = hour;
    const so = { sum: sum + value, count: count + 1 };
    return {
      hours,
      hour: { startMs, low: Math.min(low, value), high: Math.max(high, value), sum: so.sum, count: so.count },
    };
  }
  const past = hour === undefined ? hours : [...hours, rowOf(hour)];
  const kept = past.filter(([start]) => start >= startMs - HOURS_KEPT * HOUR_MS);
  return { hours: kept, hour: { startMs, low: value, high: value, sum: value, count: 1 } };
};

/** One more reading: its time and value, whether it cannot be water, and the gateway's time if it is fresh. */
export type Heard = {
  readonly atMs: number;
  readonly value: number;
  readonly bad: boolean;
  readonly periodMs: number | undefined;
  readonly heardMs: number | undefined;
  /** The probe is out of the water: what it says is no part of the water's record. */
  readonly isOut?: boolean;
};

/** The channel after one more reading. What cannot be water leaves the last value standing and says since when. */
export const channelAfter = (before: ChannelNow, heard: Heard): ChannelNow => {
  const { atMs, value, bad, periodMs } = heard;
  const heardMs = heard.heardMs ?? before.heardMs;
  // Field by field in the order of `inFull`: this is the hottest object of the program.
  if (bad) return { ...before, periodMs, heardMs, badMs: before.badMs ?? atMs };
  const { recent, hours, hour, shown } = before;
  const last = recent[recent.length - 1];
  if (heard.isOut === true || (last !== undefined && atMs - last[0] < THIN_MS))
    return { value, atMs, heardMs, badMs: undefined, periodMs, recent, hours, hour, shown };
  const so = counted(before, atMs, value);
  const longer = thinned(recent, atMs, value);
  return { value, atMs, heardMs, badMs: undefined, periodMs, recent: longer, hours: so.hours, hour: so.hour, shown };
};

/** The channel as if nothing had been read since a moment: its last hour is counted again from what is left of it. */
export const withoutSince = (channel: ChannelNow, sinceMs: number): ChannelNow => {
  if ((channel.recent.at(-1)?.[0] ?? 0) < sinceMs) return channel;
  const recent = channel.recent.filter(([atMs]) => atMs < sinceMs);
  const startMs = channel.hour?.startMs ?? 0;
  const values = recent.flatMap(([atMs, value]) => (atMs >= startMs ? [value] : []));
  if (values.length === 0) return { ...channel, recent, hour: undefined };
  const sum = values.reduce((total, value) => total + value, 0);
  const hour = { startMs, low: Math.min(...values), high: Math.max(...values), sum, count: values.length };
  return { ...channel, recent, hour };
};
