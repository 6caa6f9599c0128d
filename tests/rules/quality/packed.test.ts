import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { FLAG, type Flag } from '../../../rules/quality/flag.js';
import {
  flagsFromVerdict,
  flagsWithTest,
  rolledUp,
  UNJUDGED,
  verdictFromFlags,
} from '../../../rules/quality/packed.js';
import {
  BAD_REASONS,
  flagOf,
  MISSING,
  makeVerdict,
  QUALITY_TESTS,
  screenFlag,
  type TestFlags,
  type Verdict,
  withTest,
} from '../../../rules/quality/verdict.js';

const SEED = { seed: 20260314, numRuns: 500 };
const ran = fc.constantFrom(FLAG.pass, FLAG.suspect, FLAG.fail);

const verdict: fc.Arbitrary<Verdict> = fc
  .record({
    flags: fc.array(fc.option(ran, { nil: undefined }), {
      minLength: QUALITY_TESTS.length,
      maxLength: QUALITY_TESTS.length,
    }),
    bad: fc.option(fc.constantFrom(...BAD_REASONS), { nil: undefined }),
  })
  .map(({ flags, bad }) => {
    const by: TestFlags = {};
    QUALITY_TESTS.forEach((test, n) => {
      const flag = flags[n];
      if (flag !== undefined) by[test] = flag;
    });
    return makeVerdict(by, bad);
  });

describe('a verdict packed into one integer', () => {
  test('comes out as it went in', () => {
    fc.assert(
      fc.property(verdict, (one) => {
        expect(verdictFromFlags(flagsFromVerdict(one))).toEqual(one);
      }),
      SEED,
    );
    expect(verdictFromFlags(flagsFromVerdict(MISSING))).toEqual(MISSING);
  });

  test('is a whole number from 0 to below 2^31, which every column of integers holds', () => {
    fc.assert(
      fc.property(verdict, (one) => {
        const flags = flagsFromVerdict(one);
        expect(Number.isInteger(flags) && flags >= 0 && flags < 2 ** 31).toBe(true);
      }),
      SEED,
    );
  });

  test('shows its roll-up, and takes one test more, without being unpacked', () => {
    const any: fc.Arbitrary<Flag> = fc.constantFrom(1, 2, 3, 4, 9);
    fc.assert(
      fc.property(verdict, fc.constantFrom(...QUALITY_TESTS), any, (one, test, flag) => {
        const flags = flagsFromVerdict(one);
        expect(rolledUp(flags)).toBe(one.flag);
        expect(verdictFromFlags(flagsWithTest(flags, test, flag))).toEqual(withTest(one, test, flag));
      }),
      SEED,
    );
  });

  test('keeps its places for ever: these integers are in journals', () => {
    expect(flagsFromVerdict(makeVerdict({ syntax: FLAG.pass }))).toBe(16_777_220);
    expect(flagsFromVerdict(makeVerdict({ gap: FLAG.fail, neighbour: FLAG.suspect }, 'stuck'))).toBe(
      3 + 2 * 2 ** 20 + 3 * 2 ** 24 + 4 * 2 ** 27,
    );
    expect(verdictFromFlags(UNJUDGED)).toEqual({ flag: FLAG.notEvaluated, by: {} });
  });
});

describe('a verdict told further from outside the probe', () => {
  test('gets the flag of a probe in air on top of its own', () => {
    const passed = makeVerdict({ syntax: FLAG.pass });
    expect(withTest(passed, 'multivariate', FLAG.suspect)).toMatchObject({ flag: FLAG.suspect });
    expect(withTest(passed, 'multivariate', FLAG.notEvaluated)).toEqual(passed);
  });

  test('stays missing where there is no value', () => {
    expect(withTest(MISSING, 'neighbour', FLAG.suspect)).toBe(MISSING);
    expect(flagOf(MISSING, 'spike')).toBe(FLAG.missing);
  });

  test('on a screen never hides behind a pass that a required test did not run', () => {
    const passed = makeVerdict({ syntax: FLAG.pass, 'gross-range': FLAG.pass });
    expect([passed.flag, screenFlag(passed)]).toEqual([FLAG.pass, FLAG.notEvaluated]);
    expect(screenFlag(passed, ['syntax', 'gross-range'])).toBe(FLAG.pass);
  });
});
