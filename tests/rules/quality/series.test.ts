import { describe, expect, test } from 'vitest';
import { attenuatedFlags } from '../../../rules/quality/attenuated.js';
import { climatologyFlags, type Season } from '../../../rules/quality/climatology.js';
import { impossibleDateFlags } from '../../../rules/quality/date.js';
import { rollUp, screenRollUp } from '../../../rules/quality/flag.js';
import { flatLineFlags } from '../../../rules/quality/flat-line.js';
import { timeGapFlags } from '../../../rules/quality/gap.js';
import { grossRangeFlags, spanRefusal } from '../../../rules/quality/gross-range.js';
import { multivariateFlags } from '../../../rules/quality/multivariate.js';
import { freshNeighbourMemory, stepNeighbour } from '../../../rules/quality/neighbour.js';
import { spikeFlags, spikeHeight } from '../../../rules/quality/spike.js';
import { syntaxFlags } from '../../../rules/quality/syntax.js';

// What the check cases of tests/conformance/qartod.test.ts leave open. Common practice, no source, unless said.
describe('spans', () => {
  test('of the user must lie inside those of the sensor, and ends must be in order', () => {
    const because = (sensorSpan: [number, number], userSpan?: [number, number]) => {
      const refusal = spanRefusal({ sensorSpan, userSpan });
      return refusal?.code === 'impossible' ? refusal.because : undefined;
    };
    expect(because([0, 40], [0, 40])).toBeUndefined();
    expect(because([40, 0])).toBe('span-ends-swapped');
    expect(because([0, 40], [30, 20])).toBe('span-ends-swapped');
    expect(because([0, 40], [-1, 30])).toBe('user-span-outside-sensor-span');
    expect(because([Number.NaN, 40])).toBe('span-ends-swapped');
  });

  test('call what is no number missing, not outside', () => {
    expect(grossRangeFlags([Number.NaN, Infinity, undefined], { sensorSpan: [0, 40] })).toEqual([9, 9, 9]);
  });
});

test('a spike line of zero is a line, and no line is none', () => {
  expect(spikeFlags([20, 20.1, 20], { method: 'differential', suspect: 0 })).toEqual([2, 3, 2]);
  expect(spikeFlags([20, 99, 20], { method: 'differential' })).toEqual([2, 1, 2]);
});

test('the height of a spike is 4 for 10, 14, 10, and a step has none by the differential method', () => {
  expect(spikeHeight('average', 10, 14, 10)).toBe(4);
  expect(spikeHeight('differential', 10, 14, 10)).toBe(4);
  expect(spikeHeight('average', 10, 12, 999.99)).toBeCloseTo(492.995, 9);
  expect(spikeHeight('differential', 10, 12, 999.99)).toBe(0);
});

test('nothing tested is not evaluated, in both roll-ups', () => {
  expect(rollUp([])).toBe(2);
  expect(screenRollUp([], [])).toBe(2);
});

test('a stamp after the given now is impossible, even inside the span', () => {
  expect(impossibleDateFlags([10, 20, undefined], { span: [0, 100], nowMs: 10 })).toEqual([1, 4, 9]);
});

describe('seasons, in UTC', () => {
  const seasonAt = (season: Season, iso: string, expected: number) => {
    const member = { season, fromTo: [expected, expected], userSpan: [0, 1] } as const;
    return climatologyFlags([0], [Date.parse(iso)], { members: [member] })[0];
  };

  // ISO 8601: week 1 is the week with the first Thursday of the year.
  test.each([
    ['2021-01-03T12:00:00Z', 53],
    ['2021-01-04T00:00:00Z', 1],
    ['2024-12-30T00:00:00Z', 1],
    ['2020-12-31T23:59:59Z', 53],
  ])('%s lies in week %i', (iso, week) => {
    expect(seasonAt('week', iso, week)).toBe(1);
  });

  test('a leap year has a day 366', () => {
    expect(seasonAt('day', '2024-12-31T23:59:59Z', 366)).toBe(1);
    expect(seasonAt('day', '2025-12-31T23:59:59Z', 365)).toBe(1);
  });

  test('where two spans cover a day, the later one in the list rules', () => {
    const wide = { fromTo: [0, 100], userSpan: [0, 10] } as const;
    const narrow = { fromTo: [50, 60], userSpan: [0, 5] } as const;
    expect(climatologyFlags([7, 7], [40, 55], { members: [wide, narrow] })).toEqual([1, 3]);
  });
});

test('two channels: one that runs while the other stands still is suspect, never more', () => {
  const lines = { movedPerSecond: 0.01, stillPerSecond: 0.001 };
  const stamps = [0, 10_000, 20_000, 30_000];
  expect(multivariateFlags([20, 30, 30, undefined], [31, 31, 31, 31], stamps, lines)).toEqual([2, 3, 1, 9]);
  expect(multivariateFlags([20, 30], [31, 25], stamps, lines)).toEqual([2, 1]);
  expect(multivariateFlags([20, 30], [31, undefined], stamps, lines)).toEqual([2, 2]);
});

test('sister probes: a tolerance and a hold of zero are lines, and a dead probe has no sister', () => {
  const at = { atMs: 0, value: 20, sister: 20.1 };
  expect(stepNeighbour(freshNeighbourMemory, at, { tolerance: 0, holdMs: 0 }).flag).toBe(3);
  expect(stepNeighbour(freshNeighbourMemory, { ...at, sister: 20 }, { tolerance: 0, holdMs: 0 }).flag).toBe(1);
  expect(stepNeighbour(freshNeighbourMemory, { atMs: 0, sister: 20 }, { tolerance: 0, holdMs: 0 }).flag).toBe(9);
});

// The edges below are as the reference implementation is described, not among its check cases.
describe('at the very edge', () => {
  test('a gap as long as allowed passes', () => {
    expect(timeGapFlags([0, 60_000, 120_001], { limitMs: 60_000 })).toEqual([1, 1, 4]);
  });

  test('half a byte makes a record wrong, not shorter', () => {
    expect(syntaxFlags(['0AE', '0A'], { length: 1, unit: 'hex-bytes' })).toEqual([4, 1]);
  });

  test('three equal readings may be a flat line, two never are', () => {
    const lines = { suspectMs: 2000, failMs: 9000, tolerance: 0.1 };
    expect(flatLineFlags([5, 5, 5], [0, 1000, 2000], lines)).toEqual([1, 1, 3]);
    expect(flatLineFlags([5, 5], [0, 1000], { ...lines, suspectMs: 1000 })).toEqual([1, 1]);
  });

  test('a signal that moves just as much as its line has moved enough', () => {
    expect(attenuatedFlags([5, 5], [0, 1000], { suspect: 1, fail: 0, measure: 'range' })).toEqual([3, 3]);
    expect(attenuatedFlags([5, 6], [0, 1000], { suspect: 1, fail: 0, measure: 'range' })).toEqual([1, 1]);
  });

  test('the deviation is that of the population: 0.5 for two readings one apart', () => {
    expect(attenuatedFlags([5, 6], [0, 1000], { suspect: 0.5, fail: 0, measure: 'deviation' })).toEqual([1, 1]);
    expect(attenuatedFlags([5, 6], [0, 1000], { suspect: 0.51, fail: 0, measure: 'deviation' })).toEqual([3, 3]);
  });

  test('a hole in the window spoils a range, not a deviation', () => {
    const lines = { suspect: 1, fail: 0.5, windowMs: 10_000, minSamples: 1 };
    const holed = [5, undefined, 9];
    expect(attenuatedFlags(holed, [0, 1000, 2000], { ...lines, measure: 'range' })).toEqual([4, 9, 2]);
    expect(attenuatedFlags(holed, [0, 1000, 2000], { ...lines, measure: 'deviation' })).toEqual([4, 9, 1]);
  });
});
