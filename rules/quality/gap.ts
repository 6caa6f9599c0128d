import { FLAG, type Flag, isPresent, type Series } from './flag.js';

/**
 * Time gap over a series of stamps (UTC ms): the reading after a gap longer than `limitMs` fails. The first takes the
 * flag of the second; after a missing stamp nothing can be said. Source: reference implementation of QARTOD.
 * The tank rule differs: a gap is judged by the gateway's clock while it lasts (late.ts), not by the reading that ends it.
 */
export const timeGapFlags = (stampsMs: Series, { limitMs }: { readonly limitMs: number }): Flag[] => {
  const flags = stampsMs.map((stamp, n) => (n === 0 ? FLAG.notEvaluated : gapFlagAt(stampsMs[n - 1], stamp, limitMs)));
  const second = flags[1];
  if (flags.length === 0) return flags;
  if (!isPresent(stampsMs[0])) return [FLAG.missing, ...flags.slice(1)];
  return [second === undefined || second === FLAG.missing ? FLAG.notEvaluated : second, ...flags.slice(1)];
};

const gapFlagAt = (before: number | undefined, stamp: number | undefined, limitMs: number): Flag => {
  if (!isPresent(stamp)) return FLAG.missing;
  if (!isPresent(before)) return FLAG.notEvaluated;
  return stamp - before > limitMs ? FLAG.fail : FLAG.pass;
};

/**
 * Data reception (QARTOD test 1): older than `limitMs` at `nowMs` fails. An age equal to the limit passes, and so does a
 * stamp in the future, which the test for impossible dates must catch.
 */
export const receptionFlags = (
  stampsMs: Series,
  { limitMs, nowMs }: { readonly limitMs: number; readonly nowMs: number },
): Flag[] =>
  stampsMs.map((stamp) => {
    if (!isPresent(stamp)) return FLAG.missing;
    return nowMs - stamp > limitMs ? FLAG.fail : FLAG.pass;
  });
