import type { ChannelNow } from '../engine/now.js';
import { staleAfterMs } from '../quality/late.js';
import { theilSenLine } from '../statistics/theil-sen.js';

const HOUR_MS = 3_600_000;
/** A longer hole parts what was before it from what is now. */
const HOLE_MS = 5 * 60_000;
/** More points than this tell a slope no better, and cost with their square. */
const MOST_POINTS = 24;
const FEWEST_POINTS = 3;

export type Point = readonly [atMs: number, value: number];

/** Where a channel has been going, per hour, with the range of the slope. */
export type Trend = {
  readonly perHour: number;
  readonly low: number;
  readonly high: number;
  /** From the first to the last point along the slope. */
  readonly change: number;
  readonly minutes: number;
  readonly first: number;
  readonly last: number;
};

/** Half the width of what one reading of it cannot tell: common resolution and calm of such probes, no source. */
const GRAIN: { readonly [quantity: string]: number } = {
  temperature: 0.05,
  salinity: 0.1,
  'oxygen-mg-l': 0.06,
  'oxygen-saturation': 0.7,
  level: 0.003,
};
export const grainOf = (quantity: string | undefined): number => GRAIN[quantity ?? ''] ?? 0;

/** Until a board's rhythm is known. */
const UNKNOWN_PERIOD_MS = 10_000;

/** Heard lately, with values that can be water, and that are from now: what a slow look may rest on. */
export const isLive = (channel: ChannelNow | undefined, nowMs: number): channel is ChannelNow & { value: number } => {
  if (channel?.value === undefined || channel.atMs === undefined || channel.badMs !== undefined) return false;
  const staleMs = staleAfterMs(channel.periodMs ?? UNKNOWN_PERIOD_MS);
  return nowMs - channel.heardMs <= staleMs && nowMs - channel.atMs <= staleMs + 60_000;
};

/** Where in `recent` the record without a hole begins that reaches back to `fromMs` at most. */
const unbrokenFrom = ({ recent }: ChannelNow, fromMs: number): number => {
  let start = recent.length;
  while (start > 0) {
    const here = recent[start - 1];
    const after = recent[start];
    if (here === undefined || here[0] < fromMs || (after !== undefined && after[0] - here[0] > HOLE_MS)) break;
    start -= 1;
  }
  return start;
};

/** One value a minute since `fromMs`, without a hole: what lies before a hole is another story. */
export const unbroken = (channel: ChannelNow, fromMs: number): readonly Point[] =>
  channel.recent.slice(unbrokenFrom(channel, fromMs));

/** The first of them alone. */
export const firstUnbroken = (channel: ChannelNow, fromMs: number): Point | undefined =>
  channel.recent[unbrokenFrom(channel, fromMs)];

/** The last point beside the newest value, which may be up to a minute younger. */
export const withNewest = (points: readonly Point[], { atMs, value }: ChannelNow): readonly Point[] => {
  const last = points.at(-1);
  return last === undefined || atMs === undefined || value === undefined || atMs - last[0] < 20_000
    ? points
    : [...points, [atMs, value]];
};

const HALF_WIDTH = 2 * Math.SQRT2;

/**
 * Slope per hour of the last `spanMs` (Theil-Sen), and its range: the wider of the 95 % interval of Gilbert and of what
 * the grain of the probe allows over the span. Undefined for fewer than three points or less than a third of the span.
 */
export const trendOf = (channel: ChannelNow, nowMs: number, spanMs: number, grain: number): Trend | undefined => {
  const points = withNewest(unbroken(channel, nowMs - spanMs), channel);
  const [first, last] = [points[0], points.at(-1)];
  if (first === undefined || last === undefined || points.length < FEWEST_POINTS) return undefined;
  const lengthMs = last[0] - first[0];
  if (lengthMs < spanMs / 3) return undefined;
  const answer = theilSenLine({
    points: points.map(([atMs, value]) => ({ x: (atMs - last[0]) / HOUR_MS, y: value })),
    mostPoints: MOST_POINTS,
  });
  if (!answer.ok) return undefined;
  const { slope: perHour, interval, intercept } = answer.value;
  const hours = lengthMs / HOUR_MS;
  const reach = (HALF_WIDTH * grain) / hours;
  return {
    perHour,
    low: Math.min(interval?.low ?? perHour, perHour - reach),
    high: Math.max(interval?.high ?? perHour, perHour + reach),
    change: perHour * hours,
    minutes: Math.round(lengthMs / 60_000),
    first: intercept - perHour * hours,
    last: intercept,
  };
};

const LATELY_MS = 4 * 60_000;
const STILL_MOVES_SHARE = 0.4;
const STEP_MS = 2.5 * 60_000;
const STEP_SHARE = 0.6;

/**
 * Whether a trend still goes on, and is no step: its last minutes move as its whole does, and no short part of it makes
 * up most of it. Warm water let in is over when it is over; a runaway is not. Common practice, no source.
 */
export const isGoingOn = (channel: ChannelNow, nowMs: number, spanMs: number, trend: Trend): boolean => {
  const points = withNewest(unbroken(channel, nowMs - spanMs), channel);
  const last = points.at(-1);
  const lately = points.find(([atMs]) => last !== undefined && last[0] - atMs <= LATELY_MS);
  if (last === undefined || lately === undefined || last[0] === lately[0]) return false;
  const perHour = ((last[1] - lately[1]) * HOUR_MS) / (last[0] - lately[0]);
  if (perHour * trend.perHour <= 0 || Math.abs(perHour) < STILL_MOVES_SHARE * Math.abs(trend.perHour)) return false;
  const step = points.reduce((most, [atMs, value], index) => {
    const end = points.findLast(([laterMs]) => laterMs - atMs <= STEP_MS) ?? points[index];
    return Math.max(most, Math.abs((end?.[1] ?? value) - value));
  }, 0);
  return step <= STEP_SHARE * Math.abs(last[1] - (points[0]?.[1] ?? last[1]));
};

/** The same channel as it was so long ago: its past without what came after. */
export const asOf = (channel: ChannelNow, beforeMs: number): ChannelNow => {
  const recent = channel.recent.filter(([atMs]) => atMs <= beforeMs);
  const [atMs, value] = recent.at(-1) ?? [];
  const { value: _value, atMs: _atMs, ...rest } = channel;
  return { ...rest, recent, ...(atMs === undefined || value === undefined ? {} : { atMs, value }) };
};

/** Whether anything has moved by so much: a cheap look before a slope is worth its cost. */
export const hasMoved = (channel: ChannelNow, nowMs: number, spanMs: number, by: number): boolean => {
  const { recent, value } = channel;
  const start = unbrokenFrom(channel, nowMs - spanMs);
  const first = recent[start]?.[1];
  if (first === undefined || value === undefined) return false;
  if (Math.abs(value - first) >= by) return true;
  let [low, high] = [first, first];
  for (let n = start + 1; n < recent.length; n += 1) {
    const here = recent[n]?.[1] ?? first;
    if (here < low) low = here;
    if (here > high) high = here;
  }
  return high - low >= by;
};
