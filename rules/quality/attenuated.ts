import { FLAG, type Flag, isPresent, type Series } from './flag.js';
import { medianInterval, rangeOf } from './sample.js';

/** A signal that moves less than `suspect` or `fail` (strict), by population standard deviation or by range. */
export type AttenuatedLines = {
  readonly suspect: number;
  readonly fail: number;
  readonly measure: 'deviation' | 'range';
  /** Undefined: the whole series. Else the window (t − windowMs, t]. */
  readonly windowMs?: number | undefined;
  readonly minSamples?: number | undefined;
  /** Used where `minSamples` is not given; becomes a count by the median interval. */
  readonly minSpanMs?: number | undefined;
};

/**
 * Attenuated signal over a series (QARTOD test 10). Too few points, or with `range` a hole in the window, is not
 * evaluated. Source: reference implementation of QARTOD. In a tank it fits only where the signal must move, as oxygen in
 * lit algae; everywhere else a calm record is a good one, so no tank runs it unasked.
 */
export const attenuatedFlags = (values: Series, stampsMs: readonly number[], lines: AttenuatedLines): Flag[] => {
  const { windowMs } = lines;
  const least = leastSamples(stampsMs, lines);
  const ofAll = windowMs === undefined ? windowFlag(values.filter(isPresent), lines, 1) : undefined;
  return values.map((value, n) => {
    if (!isPresent(value)) return FLAG.missing;
    if (windowMs === undefined) return ofAll ?? FLAG.notEvaluated;
    return windowFlag(windowAt(values, stampsMs, n, windowMs), lines, least);
  });
};

const windowFlag = (window: Series, lines: AttenuatedLines, least: number): Flag => {
  const present = window.filter(isPresent);
  const isHoled = lines.measure === 'range' && present.length < window.length;
  if (isHoled || present.length < least) return FLAG.notEvaluated;
  return lessThan(lines.measure === 'range' ? rangeOf(present) : deviation(present), lines);
};

const lessThan = (movement: number, { suspect, fail }: AttenuatedLines): Flag => {
  if (movement < fail) return FLAG.fail;
  return movement < suspect ? FLAG.suspect : FLAG.pass;
};

const windowAt = (values: Series, stampsMs: readonly number[], n: number, windowMs: number): Series => {
  const sinceMs = (stampsMs[n] ?? 0) - windowMs;
  let first = n;
  while (first > 0 && (stampsMs[first - 1] ?? sinceMs) > sinceMs) first -= 1;
  return values.slice(first, n + 1);
};

const leastSamples = (stampsMs: readonly number[], { minSamples, minSpanMs }: AttenuatedLines): number => {
  if (minSamples !== undefined) return minSamples;
  if (minSpanMs === undefined) return 1;
  const intervalMs = medianInterval(stampsMs);
  return intervalMs > 0 ? Math.trunc(minSpanMs / intervalMs) : 1;
};

/** Of the population, not of a sample. */
const deviation = (values: readonly number[]): number => {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  return Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / values.length);
};
