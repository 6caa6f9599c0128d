import { FLAG, type Flag } from './flag.js';
import { BAD_REASONS, QUALITY_TESTS, type QualityTest, type TestFlag, type Verdict } from './verdict.js';

/*
 * One integer for a verdict, so that the journal keeps every flag beside every reading: two bits a test from bit 0 in the
 * order of QUALITY_TESTS (0 not evaluated, 1 pass, 2 suspect, 3 fail), three bits for the roll-up, three for the reason.
 */
const TEST_FLAGS: readonly (TestFlag | undefined)[] = [undefined, FLAG.pass, FLAG.suspect, FLAG.fail];
const ROLL_UPS: readonly Flag[] = [FLAG.notEvaluated, FLAG.pass, FLAG.suspect, FLAG.fail, FLAG.missing];
const ROLL_UP_SHIFT = 24;
const BAD_SHIFT = 27;

/** A verdict as an integer from 0 to 2^30 − 1. Check value: 16 777 220 is one passed syntax test, rolled up to pass. */
export const flagsFromVerdict = (verdict: Verdict): number => {
  let packed = (ROLL_UPS.indexOf(verdict.flag) << ROLL_UP_SHIFT) | (badPlace(verdict) << BAD_SHIFT);
  QUALITY_TESTS.forEach((test, n) => {
    const flag = verdict.by[test];
    if (flag !== undefined) packed |= TEST_FLAGS.indexOf(flag) << (2 * n);
  });
  return packed;
};

/** The inverse of `flagsFromVerdict`. */
export const verdictFromFlags = (packed: number): Verdict => {
  const by: Partial<Record<QualityTest, TestFlag>> = {};
  QUALITY_TESTS.forEach((test, n) => {
    const flag = TEST_FLAGS[(packed >> (2 * n)) & 3];
    if (flag !== undefined) by[test] = flag;
  });
  const flag = ROLL_UPS[(packed >> ROLL_UP_SHIFT) & 7] ?? FLAG.notEvaluated;
  const bad = BAD_REASONS[((packed >> BAD_SHIFT) & 7) - 1];
  return bad === undefined ? { flag, by } : { flag, by, bad };
};

const badPlace = ({ bad }: Verdict): number => (bad === undefined ? 0 : BAD_REASONS.indexOf(bad) + 1);
