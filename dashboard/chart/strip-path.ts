import type { ChannelReadings } from '../../rules/wire/api.js';

/** From time and value to pixels. */
export type Paper = { readonly x: (atMs: number) => number; readonly y: (value: number) => number };

type Point = { readonly atMs: number; readonly mean: number; readonly min: number; readonly max: number };

/** Columns that a line or a band is drawn from. */
export type Columns = Pick<ChannelReadings, 'atMs' | 'min' | 'mean' | 'max' | 'gaps'>;

/** Runs of points that may be joined: broken where nothing was measured. */
const runsOf = ({ atMs, mean, min, max, gaps }: Columns): readonly (readonly Point[])[] => {
  const runs: Point[][] = [[]];
  let next = 0;
  for (const [n, at] of atMs.entries()) {
    const value = mean[n];
    while ((gaps[next]?.fromMs ?? Number.POSITIVE_INFINITY) < at) {
      next += 1;
      runs.push([]);
    }
    if (value === undefined || value === null) runs.push([]);
    else runs.at(-1)?.push({ atMs: at, mean: value, min: min[n] ?? value, max: max[n] ?? value });
  }
  return runs.filter((run) => run.length > 0);
};

const step = (x: number, y: number): string => `${x.toFixed(1)} ${y.toFixed(1)}`;

/** The mean, broken at gaps. */
export const meanPath = (readings: Columns, { x, y }: Paper): string =>
  runsOf(readings)
    .map((run) => `M${run.map(({ atMs, mean }) => step(x(atMs), y(mean))).join('L')}`)
    .join('');

/** From least to most of every bucket: a short spike is as high at every zoom as it was. */
export const spanPath = (readings: Columns, { x, y }: Paper): string =>
  runsOf(readings)
    .map((run) => {
      const above = run.map(({ atMs, max }) => step(x(atMs), y(max) - 0.6));
      const below = run.toReversed().map(({ atMs, min }) => step(x(atMs), y(min) + 0.6));
      return `M${[...above, ...below].join('L')}Z`;
    })
    .join('');

/** Least and most of several channels and lines, with a little room; a flat channel gets a narrow band of its own. */
export const valueSpan = (
  channels: readonly Pick<ChannelReadings, 'min' | 'max'>[],
  lines: readonly number[],
): readonly [low: number, high: number] => {
  const values = channels.flatMap(({ min, max }) => [...min, ...max]).filter((value) => value !== null);
  const all = [...values, ...lines];
  if (all.length === 0) return [0, 1];
  const low = all.reduce((least, value) => Math.min(least, value), Number.POSITIVE_INFINITY);
  const high = all.reduce((most, value) => Math.max(most, value), Number.NEGATIVE_INFINITY);
  const room = Math.max((high - low) * 0.08, Math.abs(high) * 0.005, 0.05);
  return [low - room, high + room];
};
