import { FLAG, type Flag, isPresent, type Series } from './flag.js';
import { medianInterval, rangeOf } from './sample.js';

/** A range below `tolerance` for `suspectMs` is suspect, for `failMs` fails. */
export type FlatLines = { readonly suspectMs: number; readonly failMs: number; readonly tolerance: number };

/**
 * Flat line over a series (QARTOD test 8), exactly as the reference implementation: times become counts of samples by
 * the median interval, fewer than three points pass, the comparison is strict, so that tolerance 0 never flags, and a
 * lone value after a hole is flagged although nothing repeated. The tank rule goes by time instead: see flat-run.ts.
 */
export const flatLineFlags = (values: Series, stampsMs: readonly number[], lines: FlatLines): Flag[] => {
  const intervalMs = medianInterval(stampsMs);
  const isFlat = (n: number, spanMs: number) => {
    const steps = Math.trunc(spanMs / intervalMs);
    return n >= steps && rangeOf(values.slice(n - steps, n + 1).filter(isPresent)) < lines.tolerance;
  };
  return values.map((value, n) => {
    if (!isPresent(value)) return FLAG.missing;
    if (values.length < 3) return FLAG.pass;
    if (isFlat(n, lines.failMs)) return FLAG.fail;
    return isFlat(n, lines.suspectMs) ? FLAG.suspect : FLAG.pass;
  });
};
