import { describe, expect, test } from 'vitest';
import { FLAG } from '../../../rules/quality/flag.js';
import { freshMemory, judgeReading } from '../../../rules/quality/judge.js';
import { stepRate } from '../../../rules/quality/rate-of-change.js';
import { flagOf, isUsable } from '../../../rules/quality/verdict.js';
import { follow, last, SECOND_MS, START_MS, thermometer, watch } from '../../support/judged.js';

// Every number here is made up for the test; the rules are common practice, no source, unless a line says otherwise.
describe('a value that cannot be water', () => {
  test('is bad beyond the span of the sensor, and the ends of the span are inside', () => {
    expect(last(watch([80.1])).verdict).toMatchObject({ flag: FLAG.fail, bad: 'sensor-span' });
    expect(last(watch([80])).verdict.bad).toBeUndefined();
    expect(last(watch([-5])).verdict.bad).toBeUndefined();
  });

  test('is bad at the power-on value of the thermometer, even where that lies inside its span (from memory)', () => {
    expect(last(watch([85], { sensorSpan: [-55, 125] })).verdict).toMatchObject({ flag: 4, bad: 'fault-value' });
  });

  test('is recognised as a fault value before its calibration moved it', () => {
    const reading = { atMs: START_MS, value: 84.6, uncorrected: 85 };
    expect(last(follow([reading], { sensorSpan: [-55, 125] })).verdict.bad).toBe('fault-value');
  });

  test('is bad when it has been stuck for as long as the hatchery allows', () => {
    const flat = { tolerance: 0, suspectMs: 60 * SECOND_MS, failMs: 120 * SECOND_MS };
    const judged = watch(Array<number>(13).fill(20.1), { flat });
    expect(judged[5]?.verdict.flag).toBe(FLAG.pass);
    expect(judged[6]?.verdict).toMatchObject({ flag: FLAG.suspect });
    expect(judged[11]?.verdict.bad).toBeUndefined();
    expect(judged[12]?.verdict).toMatchObject({ flag: FLAG.fail, bad: 'stuck' });
  });

  test('is bad when it is exactly nothing at once, and as long as it stays so: a probe that has died', () => {
    const lines = { deadFrom: 2 };
    const judged = watch([6.8, 6.8, ...Array<number>(60).fill(0), 6.7], lines);
    expect(judged.slice(2, 62).every(({ verdict }) => verdict.bad === 'fault-value')).toBe(true);
    expect(last(judged).verdict.bad).toBeUndefined();
  });

  test('is water when oxygen runs out on the way to nothing, or when nobody saw how it came there', () => {
    const lines = { deadFrom: 2 };
    expect(last(watch([4, 3, 2.2, 1.4, 0.6, 0], lines)).verdict.bad).toBeUndefined();
    expect(last(watch([0, 0], lines)).verdict.bad).toBeUndefined();
    const late = [
      { atMs: START_MS, value: 6.8 },
      { atMs: START_MS + 3600 * SECOND_MS, value: 0 },
    ];
    expect(last(follow(late, lines)).verdict.bad).toBeUndefined();
  });

  test('is missing when it is no number, and leaves no trace', () => {
    const { memory, verdict } = judgeReading(freshMemory, { atMs: START_MS, value: Number.NaN }, thermometer);
    expect(verdict).toEqual({ flag: FLAG.missing, by: {}, bad: 'not-a-number' });
    expect(isUsable(verdict)).toBe(false);
    expect(memory).toBe(freshMemory);
  });

  test('does not spoil what the next readings are compared with', () => {
    const judged = watch([20, 20.1, 85, 20.2], { spike: { suspect: 1, fail: 3 } });
    expect(judged[3]?.revision).toMatchObject({ atMs: START_MS + 10 * SECOND_MS, verdict: { flag: FLAG.pass } });
  });
});

describe('an emergency that looks like bad data', () => {
  test('stays usable when oxygen falls faster than the rate line', () => {
    const rate = { perHour: 20, windowMs: 60 * SECOND_MS, minBaseMs: 30 * SECOND_MS };
    const { verdict } = last(watch([8, 7.9, 7.8, 7.6], { rate }));
    expect(flagOf(verdict, 'rate-of-change')).toBe(FLAG.suspect);
    expect(isUsable(verdict)).toBe(true);
  });

  test('stays usable when the value leaves what the building can produce', () => {
    const { verdict } = last(watch([41]));
    expect(verdict.flag).toBe(FLAG.suspect);
    expect(isUsable(verdict)).toBe(true);
  });

  test('stays usable when a reading fails the spike test', () => {
    const { revision } = last(watch([20, 26, 20], { spike: { suspect: 1, fail: 3 } }));
    expect(revision?.verdict).toMatchObject({ flag: FLAG.fail, by: { spike: FLAG.fail } });
    expect(revision !== undefined && isUsable(revision.verdict)).toBe(true);
  });

  test('stays usable when the clock of the board is wrong, with the stamp marked', () => {
    const { verdict } = last(follow([{ atMs: START_MS, value: 20, stampRefused: true }]));
    expect(flagOf(verdict, 'date')).toBe(FLAG.fail);
    expect(isUsable(verdict)).toBe(true);
  });
});

describe('the spike test', () => {
  const spike = { suspect: 1, fail: 3 };

  // QARTOD pH manual: the newest point is not evaluated until its successor has come, then gets its flag once.
  test('does not wait: the newest reading is not evaluated, and its successor tells', () => {
    const judged = watch([20, 22, 20, 20], { spike });
    expect(judged.map(({ verdict }) => flagOf(verdict, 'spike'))).toEqual([2, 2, 2, 2]);
    expect(judged.map(({ revision }) => revision && [revision.atMs, flagOf(revision.verdict, 'spike')])).toEqual([
      undefined,
      undefined,
      [START_MS + 10 * SECOND_MS, FLAG.suspect],
      [START_MS + 20 * SECOND_MS, FLAG.pass],
    ]);
  });

  test('says whether the revised flag is another than the one told before', () => {
    expect(watch([20, 22, 20, 20], { spike }).map(({ revision }) => revision?.isOtherFlag)).toEqual([
      undefined,
      undefined,
      true,
      false,
    ]);
  });

  test('keeps the innocent neighbours of a big spike', () => {
    const flags = watch([20, 20, 60, 20, 20], { spike, userSpan: undefined }).map(
      ({ revision }) => revision?.verdict.flag,
    );
    expect(flags).toEqual([undefined, undefined, FLAG.pass, FLAG.fail, FLAG.pass]);
  });

  test('keeps a step that stays: water was changed, nothing spiked', () => {
    expect(last(watch([20, 25, 25], { spike })).revision?.verdict.flag).toBe(FLAG.pass);
  });

  test('says nothing across a hole of more than three periods', () => {
    const at = (seconds: number, value: number) => ({ atMs: START_MS + seconds * SECOND_MS, value });
    expect(last(follow([at(0, 20), at(10, 25), at(40, 20)], { spike })).revision).toBeDefined();
    expect(last(follow([at(0, 20), at(10, 25), at(41, 20)], { spike })).revision).toBeUndefined();
    expect(last(follow([at(0, 20), at(31, 25), at(41, 20)], { spike })).revision).toBeUndefined();
  });

  test('takes a line of zero as a line', () => {
    expect(last(watch([20, 20.1, 20], { spike: { suspect: 0 } })).revision?.verdict.flag).toBe(FLAG.suspect);
    expect(last(watch([20, 20, 20], { spike: { suspect: 0 } })).revision?.verdict.flag).toBe(FLAG.pass);
  });
});

describe('the rate of change', () => {
  test('is not evaluated while the base is too short, after a start as after a hole', () => {
    const rate = { perHour: 1000, windowMs: 60 * SECOND_MS, minBaseMs: 30 * SECOND_MS };
    const flags = follow(
      [0, 10, 20, 30, 300, 310, 330].map((seconds) => ({ atMs: START_MS + seconds * SECOND_MS, value: 20 })),
      { rate },
    ).map(({ verdict }) => flagOf(verdict, 'rate-of-change'));
    expect(flags).toEqual([2, 2, 2, 1, 2, 2, 1]);
  });

  test('goes by real seconds where a probe reads about once a second', () => {
    // Check case roc-6-subsecond of the reference says with real seconds: 1.50 in 1.9 s is below 1 a second.
    const rate = { perHour: 3600, windowMs: 1900, minBaseMs: 1 };
    const at = (ms: number, value: number) => ({ atMs: START_MS + ms, value });
    const flags = follow([at(0, 20), at(900, 20.95), at(2800, 22.45), at(4000, 22.45)], { rate });
    expect(flags.map(({ verdict }) => flagOf(verdict, 'rate-of-change'))).toEqual([2, 3, 1, 1]);
  });

  test('takes a line of zero as a line: any change is suspect', () => {
    const rate = { perHour: 0, windowMs: 60 * SECOND_MS, minBaseMs: 0 };
    expect(watch([20, 20, 20.1], { rate }).map(({ verdict }) => flagOf(verdict, 'rate-of-change'))).toEqual([2, 1, 3]);
  });
});

test('no rate is taken where no time has passed', () => {
  const here = { atMs: START_MS, value: 20 };
  expect(stepRate([here], here, { perHour: 0, windowMs: 0, minBaseMs: 0 }).flag).toBe(FLAG.notEvaluated);
});

describe('a reading out of turn', () => {
  const newest = { atMs: START_MS, value: 20 };

  test('that is older than the newest is judged by itself and forgotten', () => {
    const [first, second] = follow([newest, { atMs: START_MS - 1, value: 90 }]);
    expect(second?.verdict.bad).toBe('sensor-span');
    expect(second?.memory).toBe(first?.memory);
  });

  test('with the same stamp and another value is suspect', () => {
    expect(flagOf(last(follow([newest, { ...newest, value: 20.1 }])).verdict, 'date')).toBe(FLAG.suspect);
  });

  test('that comes once more says nothing new', () => {
    expect(last(follow([newest, newest])).verdict.flag).toBe(FLAG.pass);
  });
});

test('a recipe band makes a reading outside it suspect, and without a recipe nothing is evaluated', () => {
  expect(flagOf(last(watch([25], { recipeBand: [18, 24] })).verdict, 'climatology')).toBe(FLAG.suspect);
  expect(flagOf(last(watch([24], { recipeBand: [18, 24] })).verdict, 'climatology')).toBe(FLAG.pass);
  expect(flagOf(last(watch([25])).verdict, 'climatology')).toBe(FLAG.notEvaluated);
});

test('a test without a line is not evaluated, never passed', () => {
  const { verdict } = last(watch([20, 20, 20]));
  for (const off of ['spike', 'rate-of-change', 'flat-line'] as const) {
    expect(flagOf(verdict, off)).toBe(FLAG.notEvaluated);
  }
});
