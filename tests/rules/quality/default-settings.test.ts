import { describe, expect, test } from 'vitest';
import { spanRefusal } from '../../../rules/quality/gross-range.js';
import { defaultQualitySettings, freshMemory, judgeReading } from '../../../rules/quality/judge.js';
import { rateOfOneStep } from '../../../rules/quality/rate-of-change.js';
import { testsOff } from '../../../rules/quality/settings.js';
import { isUsable } from '../../../rules/quality/verdict.js';
import { QUANTITIES, type Quantity } from '../../../rules/quantity.js';

// The starting lines are common practice, data sheets from memory, or placeholders; none is a published figure.
const PERIODS_MS = [1000, 5000, 10_000, 60_000, 900_000];

describe.each(QUANTITIES)('a probe of %s that nobody has set yet', (quantity) => {
  test('has a user span inside its sensor span', () => {
    expect(spanRefusal(defaultQualitySettings(quantity, 10_000))).toBeUndefined();
  });

  test('is not suspect for one step of its resolution, however often it reads', () => {
    for (const periodMs of PERIODS_MS) {
      const { rate, resolution } = defaultQualitySettings(quantity, periodMs);
      if (rate !== undefined) expect(rateOfOneStep(resolution, rate.minBaseMs)).toBeLessThan(rate.perHour);
    }
  });

  test('reaches the base of its rate although its readings come a little unevenly', () => {
    for (const periodMs of PERIODS_MS) {
      const { rate } = defaultQualitySettings(quantity, periodMs);
      if (rate !== undefined) expect(rate.windowMs - rate.minBaseMs).toBeGreaterThanOrEqual(2 * periodMs);
    }
  });

  test('says why each test that it does not run is off', () => {
    const settings = defaultQualitySettings(quantity, 10_000);
    const off = testsOff(settings);
    expect(off.spike === undefined).toBe(settings.spike !== undefined);
    expect(off['rate-of-change'] === undefined).toBe(settings.rate !== undefined);
    expect(off['flat-line'] === undefined).toBe(settings.flat !== undefined);
  });
});

const judged = (quantity: Quantity, value: number) =>
  judgeReading(freshMemory, { atMs: 0, value }, defaultQualitySettings(quantity, 10_000)).verdict;

test('the worst water is never called a broken probe', () => {
  for (const [quantity, value] of [
    ['oxygen-mg-l', 0],
    ['oxygen-mg-l', -0.1],
    ['oxygen-saturation', 0],
    ['salinity', 0],
    ['salinity', -0.02],
    ['conductivity', 0],
    ['temperature', -1.9],
    ['temperature', 0],
    ['temperature', 45],
    ['ph', 4],
    ['pressure', 0],
    ['level', 0],
    ['flow', 0],
    ['contact', 0],
  ] as const) {
    expect(isUsable(judged(quantity, value)), `${quantity} ${value}`).toBe(true);
  }
});

test('the values of a broken thermometer are not water', () => {
  for (const value of [85, -127, 65_535]) expect(judged('temperature', value).bad).toBeDefined();
});

test('a contact has two states and nothing else to judge', () => {
  expect(testsOff(defaultQualitySettings('contact', 10_000))).toMatchObject({
    spike: 'only-two-states',
    'rate-of-change': 'only-two-states',
    'flat-line': 'only-two-states',
  });
  expect(judged('contact', 2).bad).toBe('sensor-span');
});
