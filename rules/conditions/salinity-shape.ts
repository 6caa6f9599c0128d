import type { ChannelNow } from '../engine/now.js';
import { hoursAgo } from './habit.js';
import { grainOf, hasMoved, isLive, type Point, type Trend, trendOf, unbroken, withNewest } from './trend.js';

const MINUTE_MS = 60_000;
const HOUR_MS = 3_600_000;

/** Figures of this file: common practice, no source. Practical salinity. */
const FAST_MS = 12 * MINUTE_MS;
const FAST = 1;
/** A step: nearly all of it within two minutes, and quiet on both sides. */
const STEP_MS = 2.5 * MINUTE_MS;
const STEP_SHARE = 0.75;
const SLOW_HOURS = 6;
/** Evaporation of still tanks takes 0.1 to 0.5 a day: what six hours of it show, hour by hour the same way. */
const SLOW_AT_LEAST = 0.08;
const STEADY_SHARE = 0.8;
const TIDE_HOURS = [12.42, 24.84] as const;
const LIKE_TIDE = 0.4;
const DAY_OF_HOURS = 25;
const TIDE_RANGE = 0.8;

export type SalinityShape =
  | { readonly kind: 'still' }
  /** As one tide before, or two. */
  | { readonly kind: 'tide' }
  /** Within minutes; `isStep`: all at once and then quiet. */
  | { readonly kind: 'fast'; readonly by: number; readonly perHour: number; readonly isStep: boolean }
  | { readonly kind: 'slow'; readonly perHour: number; readonly hours: number };

/** New water has another temperature; a cell that jumps by itself has not. */
const WATER_MOVED_C = 0.3;

const nearest = (points: readonly Point[], atMs: number, side: 'before' | 'after'): number | undefined =>
  side === 'before' ? points.findLast((point) => point[0] <= atMs)?.[1] : points.find((point) => point[0] >= atMs)?.[1];

/**
 * Whether nearly all of a change came at once, while the thermometer beside it noticed nothing: a bubble, a film, a
 * cable. Without a thermometer that is live nobody can tell, and it counts as water.
 */
export const isCellsJump = (
  channel: ChannelNow,
  temperature: ChannelNow | undefined,
  nowMs: number,
  fromMs: number,
): boolean => {
  if (!isLive(temperature, nowMs)) return false;
  // A jump is looked for up to this moment: what came since the last minute's value may be most of it.
  const points = withNewest(unbroken(channel, fromMs), channel);
  const [first, last] = [points[0], points.at(-1)];
  if (first === undefined || last === undefined) return false;
  let jump = { by: 0, fromMs: 0, toMs: 0 };
  for (const [atMs, value] of points) {
    const end = points.findLast(([laterMs]) => laterMs - atMs <= STEP_MS);
    if (end !== undefined && Math.abs(end[1] - value) > Math.abs(jump.by))
      jump = { by: end[1] - value, fromMs: atMs, toMs: end[0] };
  }
  if (Math.abs(jump.by) < STEP_SHARE * Math.abs(last[1] - first[1])) return false;
  const warmth = unbroken(temperature, fromMs - STEP_MS);
  const [before, after] = [
    nearest(warmth, jump.fromMs, 'before'),
    nearest(warmth, jump.toMs, 'after') ?? temperature.value,
  ];
  return before !== undefined && Math.abs(after - before) < WATER_MOVED_C;
};

/** The largest move within the time of a step, with its sign. */
const largestStep = (channel: ChannelNow, nowMs: number): number => {
  const points = withNewest(unbroken(channel, nowMs - FAST_MS), channel);
  let largest = 0;
  for (const [atMs, value] of points) {
    for (const [laterMs, later] of points) {
      if (laterMs > atMs && laterMs - atMs <= STEP_MS && Math.abs(later - value) > Math.abs(largest))
        largest = later - value;
    }
  }
  return largest;
};

const fastShape = (channel: ChannelNow, nowMs: number): SalinityShape | undefined => {
  if (!hasMoved(channel, nowMs, FAST_MS, FAST)) return undefined;
  const points = unbroken(channel, nowMs - FAST_MS);
  const [first] = points;
  if (first === undefined || channel.value === undefined || channel.atMs === undefined) return undefined;
  const by = channel.value - first[1];
  const hours = (channel.atMs - first[0]) / HOUR_MS;
  if (Math.abs(by) < FAST || hours <= 0) return undefined;
  const step = largestStep(channel, nowMs);
  return {
    kind: 'fast',
    by,
    perHour: by / hours,
    isStep: step * by > 0 && Math.abs(step) >= STEP_SHARE * Math.abs(by),
  };
};

/** Whether the same water was here one or two tides ago, in a record that swings as tides do. */
const isTide = (channel: ChannelNow, nowMs: number): boolean => {
  const { value, hours } = channel;
  if (value === undefined || hours.length < 13) return false;
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const row of hours) {
    low = Math.min(low, row[2]);
    high = Math.max(high, row[2]);
  }
  if (high - low < TIDE_RANGE) return false;
  return TIDE_HOURS.some((ago) => {
    const then = hoursAgo(channel, nowMs, ago);
    return then !== undefined && Math.abs(then - value) <= LIKE_TIDE;
  });
};

const slowShape = (channel: ChannelNow, nowMs: number, isStatic: boolean): SalinityShape => {
  // Where the sea comes in, a slow change is told from a tide by a day of record, and not before.
  if (!isStatic && channel.hours.length < DAY_OF_HOURS) return { kind: 'still' };
  const past = channel.hours.filter(([startMs]) => startMs >= nowMs - (SLOW_HOURS + 1) * HOUR_MS);
  const [first, last] = [past[0], past.at(-1)];
  if (first === undefined || last === undefined || past.length < SLOW_HOURS - 1) return { kind: 'still' };
  const hours = (last[0] - first[0]) / HOUR_MS;
  const by = last[2] - first[2];
  const steps = past.slice(1).map(([, , mean], index) => mean - (past[index]?.[2] ?? mean));
  const along = steps.filter((step) => step * by > 0).length;
  if (Math.abs(by) < SLOW_AT_LEAST || along < STEADY_SHARE * steps.length) return { kind: 'still' };
  return { kind: 'slow', perHour: by / hours, hours };
};

/** What the trace of a salinity looks like now. For live channels. */
export const salinityShape = (channel: ChannelNow, nowMs: number, isStatic: boolean): SalinityShape => {
  if (isTide(channel, nowMs)) return { kind: 'tide' };
  return fastShape(channel, nowMs) ?? hourShape(channel, nowMs) ?? slowShape(channel, nowMs, isStatic);
};

/** Between the two: a change that an hour shows. */
const hourShape = (channel: ChannelNow, nowMs: number): SalinityShape | undefined => {
  if (!hasMoved(channel, nowMs, HOUR_MS, 0.6)) return undefined;
  const trend: Trend | undefined = trendOf(channel, nowMs, HOUR_MS, grainOf('salinity'));
  if (trend === undefined || trend.low * trend.high <= 0 || Math.abs(trend.change) < 0.5) return undefined;
  return { kind: 'slow', perHour: trend.perHour, hours: trend.minutes / 60 };
};
