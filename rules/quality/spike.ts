import { beyond, FLAG, type Flag, isPresent, type Series } from './flag.js';

/** Heights in the unit of the values; undefined is no line, 0 is one. */
export type SpikeLines = { readonly suspect?: number | undefined; readonly fail?: number | undefined };
export type SpikeMethod = 'average' | 'differential';

/**
 * Height of `here` above or below its two neighbours, never negative, in the unit of the values.
 * Average: distance from the neighbours' middle. Differential: the smaller of the two steps where they go opposite ways,
 * else 0. Source: QARTOD pH manual, test 6. Check value: 10, 14, 10 is 4 by both; 10, 12, 999.99 is 492.995 and 0.
 */
export const spikeHeight = (method: SpikeMethod, before: number, here: number, after: number): number => {
  if (method === 'average') return Math.abs(here - (before + after) / 2);
  const up = here - before;
  const down = after - here;
  return Math.sign(up) * Math.sign(down) < 0 ? Math.min(Math.abs(up), Math.abs(down)) : 0;
};

/**
 * Spike over a series (QARTOD test 6). The ends, and a point beside a missing one, are not evaluated.
 * The tank rule is `tankSpikeFlag`.
 */
export const spikeFlags = (
  values: Series,
  { method, suspect, fail }: SpikeLines & { readonly method: SpikeMethod },
): Flag[] =>
  values.map((here, n) => {
    const before = values[n - 1];
    const after = values[n + 1];
    if (!isPresent(here)) return FLAG.missing;
    if (!isPresent(before) || !isPresent(after)) return FLAG.notEvaluated;
    return beyond(spikeHeight(method, before, here, after), suspect, fail);
  });

/** A value and when it was, UTC ms. */
export type Stamped = { readonly atMs: number; readonly value: number };

/**
 * Spike of a tank reading between its neighbours. Adapted: the differential method, because the average method fails
 * the innocent neighbours of a big spike as well; and a neighbour counts only within `reachMs` (three periods), because
 * across a hole a step is no spike. Common practice, no source.
 */
export const tankSpikeFlag = (
  before: Stamped,
  here: Stamped,
  after: Stamped,
  lines: SpikeLines,
  reachMs: number,
): Flag => {
  if (here.atMs - before.atMs > reachMs || after.atMs - here.atMs > reachMs) return FLAG.notEvaluated;
  return beyond(spikeHeight('differential', before.value, here.value, after.value), lines.suspect, lines.fail);
};
