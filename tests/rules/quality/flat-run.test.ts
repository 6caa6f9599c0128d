import { describe, expect, test } from 'vitest';
import { FLAG } from '../../../rules/quality/flag.js';
import { flagOf } from '../../../rules/quality/verdict.js';
import { follow, last, SECOND_MS, START_MS, watch } from '../../support/judged.js';

// Common practice, no source; the check cases are in tests/conformance/qartod.test.ts.
describe('the flat line', () => {
  test('allows a range as large as the tolerance', () => {
    const flat = { tolerance: 0.25, suspectMs: 60 * SECOND_MS };
    expect(flagOf(last(watch([20, 20.25, 20, 20, 20.25, 20.25, 20], { flat })).verdict, 'flat-line')).toBe(
      FLAG.suspect,
    );
  });

  test('calls a creep inside the tolerance no flat line, and forgets its beginning', () => {
    const flat = { tolerance: 1, suspectMs: 3600 * SECOND_MS };
    const creep = Array.from({ length: 1000 }, (_, n) => 20 + n * 1e-6);
    const { memory, verdict } = last(watch(creep, { flat }));
    expect(flagOf(verdict, 'flat-line')).toBe(FLAG.pass);
    expect(memory.flatRun?.levels).toHaveLength(32);
  });

  test('bridges a hole of six periods, no longer, where nobody has set one', () => {
    const flat = { tolerance: 0, suspectMs: 60 * SECOND_MS, minSamples: 2 };
    const at = (seconds: number) => ({ atMs: START_MS + seconds * SECOND_MS, value: 20 });
    expect(flagOf(last(follow([at(0), at(60)], { flat })).verdict, 'flat-line')).toBe(FLAG.suspect);
    expect(flagOf(last(follow([at(0), at(61)], { flat })).verdict, 'flat-line')).toBe(FLAG.pass);
  });

  test('takes zero for "at once" and zero for "unchanged"', () => {
    const flat = { tolerance: 0, failMs: 0, minSamples: 2 };
    expect(watch([20, 20, 20.1], { flat }).map(({ verdict }) => flagOf(verdict, 'flat-line'))).toEqual([1, 4, 1]);
  });

  test('starts again after a hole, because nobody knows what the water did meanwhile', () => {
    const flat = { tolerance: 0, suspectMs: 60 * SECOND_MS, gapMs: 60 * SECOND_MS };
    const at = [0, 20, 40, 60, 80, 141, 161];
    const flags = follow(
      at.map((seconds) => ({ atMs: START_MS + seconds * SECOND_MS, value: 20 })),
      { flat },
    ).map(({ verdict }) => flagOf(verdict, 'flat-line'));
    expect(flags).toEqual([1, 1, 1, 1, 3, 1, 1]);
  });

  test('with a tolerance lets a slow climb through and finds a trembling line', () => {
    const flat = { tolerance: 0.3, suspectMs: 100 * SECOND_MS };
    const climb = Array.from({ length: 30 }, (_, n) => 20 + n * 0.1);
    const tremble = Array.from({ length: 30 }, (_, n) => 20 + (n % 3) * 0.1);
    expect(watch(climb, { flat }).every(({ verdict }) => flagOf(verdict, 'flat-line') === FLAG.pass)).toBe(true);
    expect(flagOf(last(watch(tremble, { flat })).verdict, 'flat-line')).toBe(FLAG.suspect);
  });
});
