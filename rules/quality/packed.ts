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

/** Why the value cannot be water, if it cannot, without unpacking the rest. */
export const badIn = (flags: number): BadReason | undefined => BAD_REASONS[((flags >> BAD_SHIFT) & 7) - 1];

/** What one test said; not evaluated where it did not run. */
export const testIn = (flags: number, test: QualityTest): Flag =>
  TEST_FLAGS[(flags >> SHIFTS[test]) & 3] ?? FLAG.notEvaluated;

/** The bits of all tests, without roll-up and reason. */
export const testsIn = (flags: number): number => flags & TESTS_MASK;

/** The packed form of `withTest`, for the hot path. */
export const flagsWithTest = (flags: number, test: QualityTest, flag: Flag): number => {
  if (rolledUp(flags) === FLAG.missing || flag === FLAG.missing) return flags;
  return flagsFromTests((flags & ~(3 << SHIFTS[test]) & TESTS_MASK) | testBits(test, flag), badIn(flags));
};

/** The two bits of one test in their place: none for a test that did not run. */
export const testBits = (test: QualityTest, flag: Flag): number =>
  flag === FLAG.notEvaluated || flag === FLAG.missing ? 0 : BITS[flag] << SHIFTS[test];

/** A verdict from the bits of its tests, rolled up: the packed form of `makeVerdict`. */
export const flagsFromTests = (tests: number, bad: BadReason | undefined): number =>
  tests | (strongest(tests) << ROLL_UP_SHIFT) | (badPlace(bad) << BAD_SHIFT);

const TESTS_MASK = (1 << ROLL_UP_SHIFT) - 1;
const BITS = { [FLAG.pass]: 1, [FLAG.suspect]: 2, [FLAG.fail]: 3 } as const;
const SHIFTS = Object.fromEntries(QUALITY_TESTS.map((test, n) => [test, 2 * n])) as Record<QualityTest, number>;
/** The lower bit of every test. */
const LOWER = 0x555555;

/** Place in ROLL_UPS of the strongest test: the two bits of a test are in the same order as the places. */
const strongest = (tests: number): number => {
  const [lower, upper] = [tests & LOWER, (tests >> 1) & LOWER];
  if ((lower & upper) !== 0) return 3;
  return upper !== 0 ? 2 : lower !== 0 ? 1 : 0;
};

const badPlace = (bad: BadReason | undefined): number => (bad === undefined ? 0 : BAD_REASONS.indexOf(bad) + 1);
