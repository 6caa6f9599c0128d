import { FLAG } from '../../rules/quality/flag.js';
import { flagsFromVerdict, verdictFromFlags } from '../../rules/quality/packed.js';
import { isUsable, type Verdict, withTest } from '../../rules/quality/verdict.js';

/** Whether a reading counts as water, and else why not. */
export type Use = 'usable' | 'out-of-water' | 'not-plausible' | 'fault-value';
export type UseOfFlags = (flags: number) => Use;

/** Dry is what the multi-variate test calls suspect (rules/quality/out-of-water.ts). */
const useOf = (verdict: Verdict): Use => {
  if (verdict.bad === 'fault-value') return 'fault-value';
  if (!isUsable(verdict)) return 'not-plausible';
  return verdict.by.multivariate === FLAG.suspect ? 'out-of-water' : 'usable';
};

/** Remembers its answers: a hatchery knows some hundred different verdicts and millions of readings. */
export const buildUseOfFlags = (): UseOfFlags => {
  const known = new Map<number, Use>();
  return (flags) => {
    const before = known.get(flags);
    if (before !== undefined) return before;
    const use = useOf(verdictFromFlags(flags));
    if (known.size < 10_000) known.set(flags, use);
    return use;
  };
};

/** A second value at one millisecond cannot be told from the first: suspect by the syntax test, and still used. */
export const flagsOfVariant = (flags: number): number => {
  const verdict = verdictFromFlags(flags);
  return verdict.by.syntax === FLAG.fail ? flags : flagsFromVerdict(withTest(verdict, 'syntax', FLAG.suspect));
};
