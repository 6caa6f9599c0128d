import type { HoursLeft } from '../seawater/hours-left.js';
import type { Harm, Line, Priority } from './finding.js';
import type { Trend } from './trend.js';

const HOUR_MS = 3_600_000;

/** Minutes of readings that a forecast rests on, as a code that rules/words says. */
export const readingsBasis = (minutes: number): string => `readings-${Math.max(1, minutes)}`;

const hoursAlong = (value: number, line: number, perHour: number): number | undefined => {
  const hours = (line - value) / perHour;
  return hours >= 0 && Number.isFinite(hours) ? hours : undefined;
};

type Ahead = { readonly value: number; readonly line: Line; readonly trend: Trend; readonly nowMs: number };

/** When the line is reached on a straight slope, over the range of the slope; undefined when it leads away from it. */
export const harmOnSlope = ({ value, line, trend, nowMs }: Ahead, basis: readonly string[] = []): Harm | undefined => {
  const [fast, slow] = line.side === 'high' ? [trend.high, trend.low] : [trend.low, trend.high];
  const likely = hoursAlong(value, line.value, trend.perHour);
  if (likely === undefined) return undefined;
  const soonest = hoursAlong(value, line.value, fast) ?? likely;
  const latest = hoursAlong(value, line.value, slow);
  return {
    atMs: Math.round(nowMs + likely * HOUR_MS),
    earliestMs: Math.round(nowMs + Math.min(soonest, likely) * HOUR_MS),
    ...(latest === undefined ? {} : { latestMs: Math.round(nowMs + latest * HOUR_MS) }),
    basis: [readingsBasis(trend.minutes), ...basis],
  };
};

/**
 * When the line is reached by water that nears the temperature of its surroundings, as Newton's law of cooling has it:
 * later than on a straight slope, and never when the surroundings lie before the line.
 */
export const hoursTowards = (value: number, around: number, line: number, perHour: number): number | undefined => {
  const rate = perHour / (around - value);
  const hours = Math.log((around - value) / (around - line)) / rate;
  return rate > 0 && hours >= 0 && Number.isFinite(hours) ? hours : undefined;
};

/** The hours that an oxygen budget leaves, as clock times; undefined when the line is never reached. */
export const harmFromHours = (left: HoursLeft, nowMs: number, basis: readonly string[]): Harm | undefined => {
  const clock = (hours: number): number => Math.round(nowMs + hours * HOUR_MS);
  switch (left.kind) {
    case 'already':
      return { atMs: nowMs, earliestMs: nowMs, latestMs: nowMs, basis };
    case 'reaches':
      return {
        atMs: clock(left.hours.mid),
        earliestMs: clock(left.hours.low),
        latestMs: clock(left.hours.high),
        basis,
      };
    case 'may-reach':
      return left.likelyHours === undefined
        ? undefined
        : { atMs: clock(left.likelyHours), earliestMs: clock(left.soonestHours), basis };
    case 'never':
      return undefined;
  }
};

export const hoursUntil = (harm: Harm | undefined, nowMs: number): number =>
  harm === undefined ? Number.POSITIVE_INFINITY : (harm.atMs - nowMs) / HOUR_MS;

/** Priority by the time left to act: high within `highH`, medium within `mediumH`, else by the next round. */
export const byTimeLeft = (hours: number, highH: number, mediumH: number): Priority =>
  hours <= highH ? 'high' : hours <= mediumH ? 'medium' : 'low';
