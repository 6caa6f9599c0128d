import { FLAG, type Flag } from './flag.js';
import type { Stamped } from './spike.js';

/** Undefined times are lines that are not drawn. Tolerance in the unit of the values, inclusive: 0 means unchanged. */
export type FlatSettings = {
  readonly tolerance: number;
  readonly suspectMs?: number | undefined;
  readonly failMs?: number | undefined;
  /** A longer hole between two readings starts a new run; by default six periods. */
  readonly gapMs?: number | undefined;
  /** A run of fewer readings is no evidence; by default five. */
  readonly minSamples?: number | undefined;
};

/** A reading of the run that a later one may still differ from by too much, and where the run would start after it. */
type Level = { readonly value: number; readonly nextMs: number; readonly nextCount: number };

/** The longest stretch of readings up to the newest whose range is within the tolerance. `count` numbers readings. */
export type FlatRun = {
  readonly startMs: number;
  readonly startCount: number;
  readonly newest: Stamped;
  readonly count: number;
  /** Oldest first; only the lowest and the highest of what follows them. Empty for tolerance 0. */
  readonly levels: readonly Level[];
};

/** A run that needs more levels is creeping, not stuck: its oldest part is let go. */
const LEVELS_KEPT = 32;
const SAMPLES_AT_LEAST = 5;
const GAP_PERIODS = 6;

/** The run with one more reading in it. Its size does not grow with time. */
export const stepFlatRun = (
  run: FlatRun | undefined,
  reading: Stamped,
  { tolerance, gapMs }: FlatSettings,
  periodMs: number,
): FlatRun => {
  if (run === undefined) return startRun(reading);
  const { newest, startMs, startCount, levels } = run;
  const isHole = reading.atMs - newest.atMs > (gapMs ?? GAP_PERIODS * periodMs);
  if (isHole || Math.abs(reading.value - newest.value) > tolerance) return startRun(reading);
  const count = run.count + 1;
  if (newest.value === reading.value && levels.length === 0)
    return { startMs, startCount, newest: reading, count, levels };
  const earlier = [...levels, { value: newest.value, nextMs: reading.atMs, nextCount: count }];
  const from = earlier.findLastIndex(({ value }) => Math.abs(value - reading.value) > tolerance);
  const kept = extremes(earlier.slice(from + 1), reading.value);
  const dropped = kept.length > LEVELS_KEPT ? kept[0] : earlier[from];
  return {
    startMs: dropped?.nextMs ?? startMs,
    startCount: dropped?.nextCount ?? startCount,
    newest: reading,
    count,
    levels: kept.length > LEVELS_KEPT ? kept.slice(1) : kept,
  };
};

/**
 * The flat line test (QARTOD test 8) of a tank. Adapted: by time and not by a count of samples; the range is compared
 * inclusively, so that tolerance 0 works; a lone value after a hole is no flat line. A run that is too short to tell
 * passes, it has not been found flat. Common practice, no source.
 */
export const flatRunFlag = (run: FlatRun, { suspectMs, failMs, minSamples }: FlatSettings): Flag => {
  const spanMs = run.newest.atMs - run.startMs;
  if (run.count - run.startCount + 1 < (minSamples ?? SAMPLES_AT_LEAST)) return FLAG.pass;
  if (failMs !== undefined && spanMs >= failMs) return FLAG.fail;
  return suspectMs !== undefined && spanMs >= suspectMs ? FLAG.suspect : FLAG.pass;
};

const startRun = (reading: Stamped): FlatRun => ({
  startMs: reading.atMs,
  startCount: 1,
  newest: reading,
  count: 1,
  levels: NO_LEVELS,
});

const NO_LEVELS: readonly Level[] = [];

/** Of the levels, those that are lower or higher than all that followed: the rest can never end the run. */
const extremes = (levels: readonly Level[], newest: number): readonly Level[] => {
  const kept: Level[] = [];
  let low = newest;
  let high = newest;
  for (const level of levels.toReversed()) {
    if (level.value < low || level.value > high) kept.push(level);
    low = Math.min(low, level.value);
    high = Math.max(high, level.value);
  }
  return kept.reverse();
};
