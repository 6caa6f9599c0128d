import { describe, expect, test } from 'vitest';
import { isFreshOnArrival, isStampAccepted } from '../../../rules/quality/date.js';
import { FLAG } from '../../../rules/quality/flag.js';
import { timeGapFlags } from '../../../rules/quality/gap.js';
import { defaultQualitySettings, freshMemory, judgeReading } from '../../../rules/quality/judge.js';
import { gapFlag, lateness, staleAfterMs } from '../../../rules/quality/late.js';
import { testsOff } from '../../../rules/quality/settings.js';
import { settingsIn, workPhase } from '../../../rules/quality/settle.js';
import { flagOf } from '../../../rules/quality/verdict.js';

// Common practice, no source, unless a line says otherwise.
const MINUTE_MS = 60_000;
const DAY_MS = 86_400_000;
const NOW_MS = Date.UTC(2026, 2, 14, 5);

describe('a channel from which nothing comes', () => {
  test('is late after three periods and silent after ten, each line itself still inside', () => {
    expect([30_000, 30_001, 100_000, 100_001].map((ageMs) => lateness(ageMs, 10_000))).toEqual([
      'fresh',
      'late',
      'late',
      'silent',
    ]);
  });

  test('is never called silent within a minute, however often it should read', () => {
    expect(staleAfterMs(1000)).toBe(MINUTE_MS);
    expect(lateness(MINUTE_MS, 1000)).toBe('late');
    expect(gapFlag[lateness(MINUTE_MS + 1, 1000)]).toBe(FLAG.fail);
  });
});

describe("a board's clock", () => {
  test('is believed from seven days back to a minute ahead of the arrival', () => {
    expect(isStampAccepted(NOW_MS - 7 * DAY_MS, NOW_MS)).toBe(true);
    expect(isStampAccepted(NOW_MS - 7 * DAY_MS - 1, NOW_MS)).toBe(false);
    expect(isStampAccepted(NOW_MS + MINUTE_MS, NOW_MS)).toBe(true);
    expect(isStampAccepted(NOW_MS + MINUTE_MS + 1, NOW_MS)).toBe(false);
  });

  test('is not believed when it counts from its own start or from 1970', () => {
    expect(isStampAccepted(0, NOW_MS)).toBe(false);
    expect(isStampAccepted(42_000, NOW_MS)).toBe(false);
    expect(isStampAccepted(Number.NaN, NOW_MS)).toBe(false);
  });

  test('makes a reading tell of now for a minute, or for three periods of a slow probe', () => {
    expect(isFreshOnArrival(NOW_MS - MINUTE_MS, NOW_MS, 10_000)).toBe(true);
    expect(isFreshOnArrival(NOW_MS - MINUTE_MS - 1, NOW_MS, 10_000)).toBe(false);
    expect(isFreshOnArrival(NOW_MS - 3 * MINUTE_MS, NOW_MS, MINUTE_MS)).toBe(true);
  });
});

test('a single stamp shows no gap and no evenness', () => {
  expect(timeGapFlags([NOW_MS], { limitMs: MINUTE_MS })).toEqual([FLAG.notEvaluated]);
  expect(timeGapFlags([], { limitMs: MINUTE_MS })).toEqual([]);
  expect(timeGapFlags([undefined, NOW_MS], { limitMs: MINUTE_MS })).toEqual([FLAG.missing, FLAG.notEvaluated]);
});

describe('around declared work', () => {
  const work = { fromMs: NOW_MS, endedMs: NOW_MS + 30 * MINUTE_MS };
  const settings = defaultQualitySettings('temperature', 10_000);

  test('there is before, during, five minutes of settling, and after', () => {
    const at = [-1, 0, 30 * MINUTE_MS - 1, 30 * MINUTE_MS, 35 * MINUTE_MS - 1, 35 * MINUTE_MS];
    expect(at.map((ms) => workPhase(work, NOW_MS + ms))).toEqual([
      'none',
      'during',
      'during',
      'settling',
      'settling',
      'none',
    ]);
    expect(workPhase({ fromMs: NOW_MS }, NOW_MS + DAY_MS)).toBe('during');
    expect(workPhase(undefined, NOW_MS)).toBe('none');
  });

  test('only range and fault values are judged while it goes on, and the reason is kept', () => {
    expect(testsOff(settingsIn('during', settings))).toMatchObject({
      spike: 'declared-work',
      'rate-of-change': 'declared-work',
      'flat-line': 'declared-work',
    });
    expect(testsOff(settingsIn('settling', settings))).toMatchObject({ 'rate-of-change': 'settling-after-work' });
    expect(testsOff(settingsIn('settling', settings)).spike).toBeUndefined();
    expect(settingsIn('none', settings)).toBe(settings);
  });

  test('no rate is taken from before the work to after it', () => {
    const quick = { ...settings, rate: { perHour: 1, windowMs: DAY_MS, minBaseMs: 0 } };
    let { memory } = judgeReading(freshMemory, { atMs: NOW_MS - 1000, value: 20 }, quick);
    memory = judgeReading(memory, { atMs: NOW_MS, value: 24 }, settingsIn('during', quick)).memory;
    const after = judgeReading(memory, { atMs: work.endedMs, value: 24 }, quick);
    expect(flagOf(after.verdict, 'rate-of-change')).toBe(FLAG.notEvaluated);
  });
});
