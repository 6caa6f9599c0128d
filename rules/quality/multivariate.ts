import { FLAG, type Flag, isPresent, type Series } from './flag.js';

/** Rates in units per second: of the channel that moved, and of the one that should have moved with it. */
export type MultivariateLines = { readonly movedPerSecond: number; readonly stillPerSecond: number };

/**
 * Multi-variate over two series (QARTOD test 9): suspect where `values` changes faster than its line while `partner`
 * stays below its own; never fail. The neighbour test (11) of the reference is the same with the same quantity of
 * another probe as partner. In real-valued seconds; the first point and holes are not evaluated. There is no published
 * check value. The tank rules in its place are out-of-water.ts and neighbour.ts.
 */
export const multivariateFlags = (
  values: Series,
  partner: Series,
  stampsMs: readonly number[],
  lines: MultivariateLines,
): Flag[] =>
  values.map((value, n) => {
    if (!isPresent(value)) return FLAG.missing;
    const moved = perSecond(values, stampsMs, n);
    const still = perSecond(partner, stampsMs, n);
    if (moved === undefined || still === undefined) return FLAG.notEvaluated;
    return moved > lines.movedPerSecond && still < lines.stillPerSecond ? FLAG.suspect : FLAG.pass;
  });

/** Rate at n against n − 1, never negative; undefined where either is missing or no time has passed. */
const perSecond = (values: Series, stampsMs: readonly number[], n: number): number | undefined => {
  const here = values[n];
  const before = values[n - 1];
  const seconds = ((stampsMs[n] ?? 0) - (stampsMs[n - 1] ?? 0)) / 1000;
  return isPresent(here) && isPresent(before) && seconds > 0 ? Math.abs(here - before) / seconds : undefined;
};
