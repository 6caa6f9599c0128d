import type { ChannelNow } from '../engine/now.js';
import { hoursAgo } from './habit.js';
import { grainOf, hasMoved, isLive, type Trend, trendOf, unbroken } from './trend.js';

const MINUTE_MS = 60_000;
/** A slow decline is looked at over this time, a steep one over the shorter. */
const SPAN_MS = 25 * MINUTE_MS;
const STEEP_MS = 8 * MINUTE_MS;
const FEWEST_POINTS = 10;
/** So much within the span is more than probes of the trade do by themselves. Common practice, no source. */
const DECLINE_MG_L = 0.4;
const STEEP_MG_L = 0.7;
/** As yesterday at this hour: green water breathes at night. */
const LIKE_YESTERDAY_MG_L = 0.5;
/** Of the decline in mg/L, a warming alone takes the saturation along less than this. */
const SATURATION_FALL_PCT = 2;

const steep = (channel: ChannelNow, nowMs: number): Trend | undefined => {
  if (!hasMoved(channel, nowMs, STEEP_MS, STEEP_MG_L)) return undefined;
  const trend = trendOf(channel, nowMs, STEEP_MS, grainOf('oxygen-mg-l'));
  return trend !== undefined && trend.high < 0 && trend.change <= -STEEP_MG_L ? trend : undefined;
};

/** A decline of dissolved oxygen that is more than noise; undefined when there is none. For live channels. */
export const declineOf = (channel: ChannelNow, nowMs: number): Trend | undefined => {
  if (!hasMoved(channel, nowMs, SPAN_MS, DECLINE_MG_L)) return undefined;
  const fast = steep(channel, nowMs);
  if (fast !== undefined) return fast;
  if (unbroken(channel, nowMs - SPAN_MS).length < FEWEST_POINTS) return undefined;
  const trend = trendOf(channel, nowMs, SPAN_MS, grainOf('oxygen-mg-l'));
  return trend !== undefined && trend.high < 0 && trend.change <= -DECLINE_MG_L ? trend : undefined;
};

/** The same level and the same fall at this hour yesterday: the day's own rhythm, not a failure. */
export const isLikeYesterday = (channel: ChannelNow, trend: Trend, nowMs: number): boolean => {
  const then = hoursAgo(channel, nowMs, 24);
  const before = hoursAgo(channel, nowMs, 24.5);
  if (then === undefined || before === undefined || channel.value === undefined) return false;
  return channel.value > then - LIKE_YESTERDAY_MG_L && trend.perHour > 2 * (then - before) * 1.5;
};

/** Warm water holds less: mg/L falls while the saturation stays. That is no loss. */
export const isOnlyWarming = (saturation: ChannelNow | undefined, nowMs: number): boolean => {
  if (!isLive(saturation, nowMs)) return false;
  const trend = trendOf(saturation, nowMs, SPAN_MS, grainOf('oxygen-saturation'));
  return trend !== undefined && trend.change > -SATURATION_FALL_PCT;
};
