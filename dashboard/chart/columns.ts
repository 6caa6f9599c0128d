import type { ChannelReadings } from '../../rules/wire/api.js';
import type { Scale } from './waterline.js';

/** What a trace is drawn from: times in ms and places on the scale, null where the line must break. */
export type TraceColumns = {
  readonly atMs: readonly number[];
  readonly mean: readonly (number | null)[];
  readonly low: readonly (number | null)[];
  readonly high: readonly (number | null)[];
};

type Readings = Pick<ChannelReadings, 'atMs' | 'min' | 'mean' | 'max' | 'gaps'>;

/** The columns with the value that stands now at their end, unless it is older or too far away to be joined to. */
export const withNow = (
  columns: TraceColumns,
  now: { readonly atMs: number; readonly place: number | undefined },
): TraceColumns => {
  const last = columns.atMs.at(-1);
  if (now.place === undefined || last === undefined || now.atMs <= last || now.atMs - last > JOIN_MS) return columns;
  return {
    atMs: [...columns.atMs, now.atMs],
    mean: [...columns.mean, now.place],
    low: [...columns.low, now.place],
    high: [...columns.high, now.place],
  };
};
const JOIN_MS = 15 * 60_000;

/** Readings as columns on the scale. Where a gap begins the line breaks instead of lying across it. */
export const traceColumns = (readings: Readings, scale: Scale): TraceColumns => {
  const atMs: number[] = [];
  const mean: (number | null)[] = [];
  const low: (number | null)[] = [];
  const high: (number | null)[] = [];
  const push = (at: number, values: readonly [number | null, number | null, number | null]): void => {
    atMs.push(at);
    [mean, low, high].forEach((column, index) => {
      column.push(placed(scale, values[index] ?? null));
    });
  };
  const starts = readings.gaps.map(({ fromMs }) => fromMs).toSorted((a, b) => a - b);
  let next = 0;
  for (const [index, at] of readings.atMs.entries()) {
    const start = starts[next];
    if (start !== undefined && start < at) {
      if (start > (atMs.at(-1) ?? -Infinity)) push(start, [null, null, null]);
      while ((starts[next] ?? Infinity) < at) next += 1;
    }
    push(at, [readings.mean[index] ?? null, readings.min[index] ?? null, readings.max[index] ?? null]);
  }
  return { atMs, mean, low, high };
};

const placed = (scale: Scale, value: number | null): number | null => (value === null ? null : (scale(value) ?? null));

/** Where the highest value of a channel lies that wants nothing. */
export const OWN_EDGE = 1.5;

/** A channel that wants nothing has no waterline: its own span of values is the scale. */
export const ownScale = (readings: Pick<ChannelReadings, 'min' | 'max'>): Scale => {
  const values = [...readings.min, ...readings.max].filter((value) => value !== null);
  if (values.length === 0) return () => undefined;
  const low = Math.min(...values);
  const high = Math.max(...values);
  const half = Math.max((high - low) / 2, Math.abs(high) * 1e-3, 1e-9);
  return (value) => ((value - (low + high) / 2) / half) * OWN_EDGE;
};
