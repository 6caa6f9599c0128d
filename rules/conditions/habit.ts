import type { ChannelNow } from '../engine/now.js';
import { middle, rising } from '../statistics/quantile.js';
import { type Point, unbroken } from './trend.js';

const MINUTE_MS = 60_000;
const HOUR_MS = 3_600_000;

/** Hours looked back at for what is usual. */
const USUAL_HOURS = 12;
const FEWEST_HOURS = 2;
/** A young record: its first part, when it is at least this old and this calm. */
const OLD_ENOUGH_MS = 20 * MINUTE_MS;
const CALM = 0.6;

const median = (values: readonly number[]): number | undefined => middle(rising(values));

/** The range of some values, from the first to before the end. */
const rangeOf = (points: readonly Point[], end: number): number => {
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let n = 0; n < end; n += 1) {
    const value = points[n]?.[1] ?? 0;
    if (value < low) low = value;
    if (value > high) high = value;
  }
  return high - low;
};

/** Values of the hour that are older than `OLD_ENOUGH_MS`, where they hold still: what it was before it began to move. */
const earlyLevel = (channel: ChannelNow, nowMs: number): number | undefined => {
  const points = unbroken(channel, nowMs - HOUR_MS);
  let end = 0;
  while (end < points.length && nowMs - (points[end]?.[0] ?? nowMs) >= OLD_ENOUGH_MS) end += 1;
  if (end < 5 || rangeOf(points, end) > CALM) return undefined;
  return median(points.slice(0, end).map(([, value]) => value));
};

/**
 * The level that a channel usually holds: the median of its hourly means over twelve hours, which a climb or a fall of
 * the last few does not move; of a younger record its calm beginning. Undefined when neither can be told.
 */
export const heldLevel = (channel: ChannelNow, nowMs: number): number | undefined => {
  const fromMs = nowMs - USUAL_HOURS * HOUR_MS;
  const means: number[] = [];
  for (const row of channel.hours) if (row[0] >= fromMs) means.push(row[2]);
  return means.length < FEWEST_HOURS ? earlyLevel(channel, nowMs) : median(means);
};

/** The mean of the hour that lies so many hours back, straight between the two nearest; undefined without a record. */
export const hoursAgo = (channel: ChannelNow, nowMs: number, hours: number): number | undefined => {
  const atMs = nowMs - hours * HOUR_MS;
  const middleMs = (startMs: number): number => startMs + HOUR_MS / 2;
  const before = channel.hours.findLast(([startMs]) => middleMs(startMs) <= atMs);
  const after = channel.hours.find(([startMs]) => middleMs(startMs) > atMs);
  if (before === undefined || after === undefined || after[0] - before[0] > 2 * HOUR_MS) return undefined;
  const share = (atMs - middleMs(before[0])) / (after[0] - before[0]);
  return before[2] + share * (after[2] - before[2]);
};

/** Lowest and highest value a minute of the last hours, the hour under way with them. */
export const spanOfHours = (
  channel: ChannelNow,
  nowMs: number,
  hours: number,
): { readonly low: number; readonly high: number; readonly count: number } | undefined => {
  const rows = channel.hours.filter(([startMs]) => startMs >= nowMs - hours * HOUR_MS);
  const lows = [...rows.map(([, low]) => low), ...(channel.hour === undefined ? [] : [channel.hour.low])];
  const highs = [...rows.map(([, , , high]) => high), ...(channel.hour === undefined ? [] : [channel.hour.high])];
  if (lows.length === 0) return undefined;
  return { low: Math.min(...lows), high: Math.max(...highs), count: rows.length };
};

/** Hours that must have been as far out for it to be usual: one may have been the accident itself. */
const USUAL_TIMES = 2;

/**
 * How low and how high a channel goes: in at least two of the last twelve hours, of which the one just past does not
 * count, since what moves now may have begun in it; or within the hour, but not in its last twenty minutes. Undefined
 * without a record of either.
 */
export const usualReach = (
  channel: ChannelNow,
  nowMs: number,
): { readonly low: number; readonly high: number } | undefined => {
  const rows = channel.hours.filter(
    ([startMs]) => startMs > nowMs - USUAL_HOURS * HOUR_MS && startMs <= nowMs - 2 * HOUR_MS,
  );
  const lately = unbroken(channel, nowMs - HOUR_MS).filter(([atMs]) => nowMs - atMs >= OLD_ENOUGH_MS);
  const values = lately.map(([, value]) => value);
  const often = rows.length >= USUAL_TIMES;
  const lows = [...values, ...(often ? [rising(rows.map(([, low]) => low))[USUAL_TIMES - 1] ?? Infinity] : [])];
  const highs = [...values, ...(often ? [rising(rows.map((row) => row[3])).at(-USUAL_TIMES) ?? -Infinity] : [])];
  return lows.length === 0 ? undefined : { low: Math.min(...lows), high: Math.max(...highs) };
};

/** Median of the steps from minute to minute over a span: how much a trace trembles, whatever its trend. */
export const trembling = (channel: ChannelNow, nowMs: number, spanMs: number): number | undefined => {
  const points = unbroken(channel, nowMs - spanMs);
  if (points.length < 10) return undefined;
  const seconds = points.flatMap(([, value], index) => {
    const [before, after] = [points[index - 1], points[index + 1]];
    return before === undefined || after === undefined ? [] : [Math.abs(value - (before[1] + after[1]) / 2)];
  });
  return median(seconds);
};
