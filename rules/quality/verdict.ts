import { FLAG, type Flag, rollUp, screenRollUp } from './flag.js';

/**
 * The tests, in the order of their bits in a packed verdict: only ever append. Location (QARTOD test 3) is not there:
 * a fixed probe sends no position, and the manuals exempt exactly this.
 */
export const QUALITY_TESTS = [
  'gap',
  'syntax',
  'date',
  'gross-range',
  'climatology',
  'spike',
  'rate-of-change',
  'flat-line',
  'multivariate',
  'attenuated',
  'neighbour',
] as const;
export type QualityTest = (typeof QUALITY_TESTS)[number];

/** Required by QARTOD for temperature, salinity and oxygen; climatology is the recipe band here. */
export const REQUIRED_TESTS: readonly QualityTest[] = ['gap', 'syntax', 'gross-range', 'climatology'];

/** What a test that ran can say. A test that did not run is absent, and so not evaluated. */
export type TestFlag = typeof FLAG.pass | typeof FLAG.suspect | typeof FLAG.fail;

/** Flags of tests while they are being collected. */
export type TestFlags = Partial<Record<QualityTest, TestFlag>>;

/** Why a value cannot be water. Only append: the places are kept in packed verdicts. */
export const BAD_REASONS = ['not-a-number', 'fault-value', 'sensor-span', 'stuck'] as const;
export type BadReason = (typeof BAD_REASONS)[number];

/**
 * What is known about one reading. `flag` is the QARTOD roll-up of `by`. `bad` says that the value cannot be water and
 * feeds no process condition; suspect readings, and those that only fail spike or rate of change, are used all the same,
 * because a real emergency looks like bad data.
 */
export type Verdict = {
  readonly flag: Flag;
  readonly by: Readonly<TestFlags>;
  readonly bad?: BadReason;
};

/** A value that is no number at all: nothing can be tested. */
export const MISSING: Verdict = { flag: FLAG.missing, by: {}, bad: 'not-a-number' };

export const makeVerdict = (by: Verdict['by'], bad?: BadReason): Verdict => {
  const flag = rollUp(Object.values(by));
  return bad === undefined ? { flag, by } : { flag, by, bad };
};

/** The flag of one test; a missing value is missing to every test. */
export const flagOf = (verdict: Verdict, test: QualityTest): Flag =>
  verdict.flag === FLAG.missing ? FLAG.missing : (verdict.by[test] ?? FLAG.notEvaluated);

/** The verdict with one more test: gap, multi-variate and neighbour are told from outside the probe's own readings. */
export const withTest = (verdict: Verdict, test: QualityTest, flag: Flag): Verdict => {
  if (verdict.flag === FLAG.missing || flag === FLAG.missing || flag === flagOf(verdict, test)) return verdict;
  const by: TestFlags = { ...verdict.by };
  if (flag === FLAG.notEvaluated) delete by[test];
  else by[test] = flag;
  return makeVerdict(by, verdict.bad);
};

/** Whether the value may feed process conditions. */
export const isUsable = (verdict: Verdict): boolean => verdict.bad === undefined && verdict.flag !== FLAG.missing;

/** The stricter flag for screens, where a pass never hides a required test that did not run. */
export const screenFlag = (verdict: Verdict, required: readonly QualityTest[] = REQUIRED_TESTS): Flag =>
  screenRollUp(
    required.map((test) => flagOf(verdict, test)),
    QUALITY_TESTS.filter((test) => !required.includes(test)).map((test) => flagOf(verdict, test)),
  );
