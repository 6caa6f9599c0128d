import { expect, test } from 'vitest';
import { openDay, sealDay } from '../../gateway/journal/sealed/day.js';
import { isWithin, quantile, tableOf } from './figure.js';
import { makeDay } from './water.js';

test('a figure stands beside its anchor and says whether its budget was kept', () => {
  const kept = { what: 'a year', value: 12.34, unit: 'ms', budget: { most: 50 } };
  const missed = {
    what: 'share',
    value: 0.3,
    unit: 'of 1',
    anchor: { what: 'bare', value: 1 },
    budget: { least: 0.5 },
  };
  expect([isWithin(kept), isWithin(missed), isWithin({ what: 'x', value: 1, unit: '' })]).toEqual([
    true,
    false,
    undefined,
  ]);
  const table = tableOf({ figures: [kept, missed], skipped: [{ what: 'influxd', because: 'not here' }] });
  expect(table.split('\n').map((line) => line.split(/ {2,}/))).toEqual([
    ['what', 'measured', 'beside', 'budget'],
    ['a year', '12.3 ms', '≤ 50 kept'],
    ['share', '0.3 of 1', '1 of 1 (bare)', '≥ 0.5 MISSED'],
    ['skipped: influxd (not here)'],
  ]);
});

test('the share of a hundred numbers is found by its place', () => {
  const numbers = Array.from({ length: 100 }, (_, n) => 99 - n);
  expect([0, 0.5, 0.99, 1].map((share) => quantile(numbers, share))).toEqual([0, 50, 99, 99]);
});

test('the water of the benches is the same each time, comes back from sealing, and is never the same number for long', () => {
  const day = makeDay(3, 0, 20_000);
  expect(makeDay(3, 0, 20_000)).toEqual(day);
  expect([...openDay(sealDay(day)).raw]).toEqual([...day.raw]);
  const same = day.raw.filter((value, n) => value === day.raw[n - 1]).length;
  expect(same / day.raw.length).toBeLessThan(0.2);
  expect(day.deviceMs.length).toBeGreaterThan(8_500);
});
