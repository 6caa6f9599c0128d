import { FLAG, type Flag } from './flag.js';
import {
  BAD_REASONS,
  type BadReason,
  QUALITY_TESTS,
  type QualityTest,
  type TestFlag,
  type TestFlags,
  type Verdict,
} from './verdict.js';

/*
 * One integer for a verdict, so that the journal keeps every flag beside every reading: two bits a test from bit 0 in the
 * order of QUALITY_TESTS (0 not evaluated, 1 pass, 2 suspect, 3 fail), three bits for the roll-up, three for the reason.
 */
const TEST_FLAGS: readonly (TestFlag | undefined)[] = [undefined, FLAG.pass, FLAG.suspect, FLAG.fail];
const ROLL_UPS: readonly Flag[] = [FLAG.notEvaluated, FLAG.pass, FLAG.suspect, FLAG.fail, FLAG.missing];
const ROLL_UP_SHIFT = 24;
const BAD_SHIFT = 27;

/** A reading that was kept without being judged: not evaluated by any test. */
export const UNJUDGED = 0;

/** A verdict as an integer from 0 to 2^30 − 1. Check value: 16 777 220 is one passed syntax test, rolled up to pass. */
export const flagsFromVerdict = ({ flag, by, bad }: Verdict): number => {
  let flags = (ROLL_UPS.indexOf(flag) << ROLL_UP_SHIFT) | (badPlace(bad) << BAD_SHIFT);
  for (let n = 0; n < QUALITY_TESTS.length; n += 1) {
    const test = QUALITY_TESTS[n];
    if (test !== undefined) flags |= TEST_FLAGS.indexOf(by[test]) << (2 * n);
  }
  return flags;
};

/** The inverse of `flagsFromVerdict`. */
export const verdictFromFlags = (flags: number): Verdict => {
  const by: TestFlags = {};
  for (let n = 0; n < QUALITY_TESTS.length; n += 1) {
    const test = QUALITY_TESTS[n];
    const flag = TEST_FLAGS[(flags >> (2 * n)) & 3];
    if (test !== undefined && flag !== undefined) by[test] = flag;
  }
  const flag = rolledUp(flags);
  const bad = BAD_REASONS[((flags >> BAD_SHIFT) & 7) - 1];
  return bad === undefined ? { flag, by } : { flag, by, bad };
};

/** The roll-up alone, without unpacking the rest. */
export const rolledUp = (flags: number): Flag => ROLL_UPS[(flags >> ROLL_UP_SHIFT) & 7] ?? FLAG.notEvaluated;

/** The packed form of `withTest`, for the hot path. */
export const flagsWithTest = (flags: number, test: QualityTest, flag: Flag): number => {
  if (rolledUp(flags) === FLAG.missing || flag === FLAG.missing) return flags;
  const shift = 2 * QUALITY_TESTS.indexOf(test);
  const bits = flag === FLAG.notEvaluated ? 0 : TEST_FLAGS.indexOf(flag);
  const tests = (flags & ~(3 << shift) & TESTS_MASK) | (bits << shift);
  return tests | (strongest(tests) << ROLL_UP_SHIFT) | (flags & (7 << BAD_SHIFT));
};

const TESTS_MASK = (1 << ROLL_UP_SHIFT) - 1;

/** Place in ROLL_UPS of the strongest test: the two bits of a test are in the same order as the places. */
const strongest = (tests: number): number => {
  let most = 0;
  for (let rest = tests; rest > 0; rest >>= 2) most = Math.max(most, rest & 3);
  return most;
};

const badPlace = (bad: BadReason | undefined): number => (bad === undefined ? 0 : BAD_REASONS.indexOf(bad) + 1);
