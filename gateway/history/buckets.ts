import type { ChannelReadings } from '../../rules/wire/api.js';
import type { TimeSpan } from '../journal/gateway-runs.js';
import { HOUR_MS } from '../journal/hour.js';
import type { Sink } from './track.js';

const SECOND_MS = 1_000;
/** They all divide an hour, so that buckets begin where a clock would have them. */
const SHORT_STEPS_MS = [1, 2, 5, 10, 15, 20, 30, 60, 120, 300, 600, 900, 1_200, 1_800].map((s) => s * SECOND_MS);

/** The shortest step, under an hour from the list, else of whole hours, that needs no more than `points` buckets. */
export const bucketMsFor = ({ fromMs, toMs }: TimeSpan, points: number): number => {
  const fits = (stepMs: number): boolean => Math.floor((toMs - 1) / stepMs) - Math.floor(fromMs / stepMs) + 1 <= points;
  const short = SHORT_STEPS_MS.find(fits);
  if (short !== undefined) return short;
  let hours = Math.max(1, Math.ceil((toMs - fromMs) / points / HOUR_MS));
  while (!fits(hours * HOUR_MS)) hours += 1;
  return hours * HOUR_MS;
};

export type Columns = Pick<ChannelReadings, 'atMs' | 'min' | 'mean' | 'max' | 'usable'>;

/**
 * Buckets of `bucketMs`, counted from 1970 and named by their start (the first by the start of the span, where that is
 * later); 0: every reading for itself. A bucket without a reading is left out, so there are never more than readings.
 */
export const buildBuckets = (bucketMs: number, fromMs: number): Sink & { columns(): Columns } =>
  bucketMs === 0 ? buildReadings() : buildSteps(bucketMs, fromMs);

/** Readings that are not taken together are their own least, mean and greatest. */
const buildReadings = (): Sink & { columns(): Columns } => {
  const atMs: number[] = [];
  const value: (number | null)[] = [];
  const usable: number[] = [];
  return {
    reading: (at, read) => {
      atMs.push(at);
      value.push(read ?? null);
      usable.push(read === undefined ? 0 : 1);
    },
    lump: ({ firstMs }) => {
      throw new Error(`An hour from ${firstMs} is no reading.`);
    },
    columns: () => ({ atMs, min: value, mean: value, max: value, usable }),
  };
};

type Filled = { startMs: number; readings: number; usable: number; sum: number; min: number; max: number };

const buildSteps = (bucketMs: number, fromMs: number): Sink & { columns(): Columns } => {
  const filled: Filled[] = [];
  const at = (atMs: number): Filled => {
    const startMs = Math.max(fromMs, Math.floor(atMs / bucketMs) * bucketMs);
    const last = filled.at(-1);
    if (last !== undefined && last.startMs === startMs) return last;
    const next = {
      startMs,
      readings: 0,
      usable: 0,
      sum: 0,
      min: Number.POSITIVE_INFINITY,
      max: Number.NEGATIVE_INFINITY,
    };
    filled.push(next);
    return next;
  };
  const pour = (bucket: Filled, usable: number, min: number, mean: number, max: number): void => {
    bucket.usable += usable;
    bucket.sum += mean * usable;
    if (min < bucket.min) bucket.min = min;
    if (max > bucket.max) bucket.max = max;
  };
  return {
    reading: (atMs, value) => {
      const bucket = at(atMs);
      bucket.readings += 1;
      if (value !== undefined) pour(bucket, 1, value, value, value);
    },
    lump: ({ firstMs, readings, usable, water }) => {
      const bucket = at(firstMs);
      bucket.readings += readings;
      if (water !== undefined) pour(bucket, usable, water.min, water.mean, water.max);
    },
    columns: () => columnsOf(filled),
  };
};

const columnsOf = (filled: readonly Filled[]): Columns => ({
  atMs: filled.map(({ startMs }) => startMs),
  min: filled.map(({ usable, min }) => (usable === 0 ? null : min)),
  mean: filled.map(({ usable, sum }) => (usable === 0 ? null : sum / usable)),
  max: filled.map(({ usable, max }) => (usable === 0 ? null : max)),
  usable: filled.map(({ usable, readings }) => usable / readings),
});
