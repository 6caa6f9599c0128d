import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fastestChange } from '../../../rules/husbandry/fastest-change.js';
import { dawnSpans } from '../../../rules/review/dawn.js';
import { type Exposure, exposureOf } from '../../../rules/review/exposure.js';
import { fastestIn } from '../../../rules/review/fastest.js';
import { type Measured, piecesOf } from '../../../rules/review/piece.js';
import { readingsFrom, type Took } from './readings.js';

const HOUR = 3_600_000;
const HOT = [{ fromMs: 0, wants: { limitHigh: 26, targetHigh: 24, targetLow: 18, confirmed: true } }];

type Question = {
  took: readonly Took[];
  toMs: number;
  maxGapMs?: number;
  work?: readonly { fromMs: number; toMs: number }[];
};
const exposed = ({ took, toMs, maxGapMs = HOUR, work = [] }: Question): Exposure =>
  exposureOf({
    pieces: piecesOf(readingsFrom(took, { fromMs: 0, toMs, maxGapMs })),
    span: { fromMs: 0, toMs },
    wants: HOT,
    work,
    zone: 'UTC',
  });

/** Source: tests/fixtures/statistics/degree-hours.csv, exact by geometry. */
const CASES = readFileSync(new URL('../../fixtures/statistics/degree-hours.csv', import.meta.url), 'utf8')
  .split('\n')
  .filter((line) => line !== '' && !line.startsWith('#'))
  .slice(1)
  .map((line) => line.split(','));

describe('The exposure of a tank', () => {
  it.each(CASES)(
    'is what geometry says: %s',
    (_name, series = '', line = '', side, gap, degreeHours, beyond, covered) => {
      const took = series.split(';').map((pair): Took => {
        const [hour = '', value = ''] = pair.split(':');
        return [Number(hour) * HOUR, Number(value)];
      });
      const toMs = took.at(-1)?.[0] ?? 0;
      const maxGapMs = gap === '-' ? Number.MAX_SAFE_INTEGER : Number(gap) * HOUR;
      const wants = side === 'above' ? { limitHigh: Number(line) } : { limitLow: Number(line) };
      const { beyond: lines, measuredH } = exposureOf({
        pieces: piecesOf(readingsFrom(took, { fromMs: 0, toMs, maxGapMs })),
        span: { fromMs: 0, toMs },
        wants: [{ fromMs: 0, wants: { ...wants, confirmed: true } }],
        work: [],
        zone: 'UTC',
      });
      const sums = side === 'above' ? lines.limitHigh : lines.limitLow;
      expect(sums?.degreeHours ?? 0).toBeCloseTo(Number(degreeHours), 6);
      expect(sums?.hours ?? 0).toBeCloseTo(Number(beyond), 6);
      expect(measuredH).toBeCloseTo(Number(covered), 6);
    },
  );

  it('does not count declared work, and tells it apart', () => {
    const took: Took[] = [0, 1, 2, 3, 4].map((hour) => [hour * HOUR, hour === 2 ? 30 : 22]);
    const work = [{ fromMs: 1 * HOUR, toMs: 3 * HOUR }];
    const { beyond, highest, atWork, measuredH } = exposed({ took, toMs: 4 * HOUR, work });
    expect(beyond.limitHigh).toMatchObject({ hours: 0, degreeHours: 0 });
    expect(highest?.value).toBe(22);
    expect(measuredH).toBe(2);
    expect(atWork).toMatchObject({ hours: 2, highest: { value: 30, atMs: 2 * HOUR } });
    expect(atWork.beyond.limitHigh?.hours).toBeCloseTo(1, 9);
  });

  it('leaves a silence unknown, with its reason, and says that the sum is a lower bound', () => {
    const took: Took[] = [0, 1, 5, 6].map((hour) => [hour * HOUR, 28]);
    const { beyond, unmeasuredH, lowerBound } = exposed({ took, toMs: 6 * HOUR });
    expect(beyond.limitHigh).toMatchObject({ hours: 2, degreeHours: 4, longestMs: HOUR });
    expect(unmeasuredH).toEqual({ 'board-silent': 4 });
    expect(lowerBound).toBe(true);
  });

  it('breaks the line at a reading that is no water, and never averages a short spike away', () => {
    const minute = HOUR / 60;
    const took: Took[] = Array.from({ length: 61 }, (_, n) => [n * minute, n === 20 ? 31 : n === 40 ? null : 22]);
    const { highest, unmeasuredH, mean } = exposed({ took, toMs: HOUR, maxGapMs: 2 * minute });
    expect(highest).toEqual({ atMs: 20 * minute, value: 31 });
    expect(unmeasuredH['not-plausible']).toBeCloseTo(2 / 60, 9);
    expect(mean).toBeCloseTo(22 + 9 / 58, 9);
  });

  it('goes by the line that ruled then, not by the line of today', () => {
    const took: Took[] = [0, 1, 2, 3, 4].map((hour) => [hour * HOUR, 25]);
    const wants = [
      { fromMs: 0, wants: { limitHigh: 24, confirmed: true } },
      { fromMs: 1.5 * HOUR, wants: { limitHigh: 26, confirmed: true } },
    ];
    const pieces = piecesOf(readingsFrom(took, { fromMs: 0, toMs: 4 * HOUR, maxGapMs: HOUR }));
    const { beyond } = exposureOf({ pieces, span: { fromMs: 0, toMs: 4 * HOUR }, wants, work: [], zone: 'UTC' });
    expect(beyond.limitHigh).toMatchObject({ hours: 1.5, degreeHours: 1.5, longestMs: 1.5 * HOUR, longestFromMs: 0 });
  });
});

const SEED = { seed: 501, numRuns: 300 };
const anySeries = fc
  .array(
    fc.tuple(fc.integer({ min: 1, max: 40 }), fc.option(fc.double({ min: 15, max: 35, noNaN: true }), { freq: 6 })),
    {
      minLength: 2,
      maxLength: 60,
    },
  )
  .map((steps): readonly Took[] => {
    let atMs = 0;
    return steps.map(([minutes, value]): Took => {
      atMs += minutes * 60_000;
      return [atMs, value];
    });
  });

describe('Exposure against the plainest recomputation', () => {
  const MAX_GAP = 30 * 60_000;

  /** Second by second along the straight lines: slow, and with no idea in it. */
  const naive = (took: readonly Took[], fromMs: number, toMs: number) => {
    let [hours, degreeHours, measured] = [0, 0, 0];
    for (let at = fromMs + 500; at < toMs; at += 1000) {
      const after = took.findIndex(([t]) => t > at);
      const [a, b] = [took[after - 1], took[after]];
      if (a === undefined || b === undefined || a[1] === null || b[1] === null || b[0] - a[0] > MAX_GAP) continue;
      measured += 1 / 3600;
      const value = a[1] + ((b[1] - a[1]) * (at - a[0])) / (b[0] - a[0]);
      if (value > 26) {
        hours += 1 / 3600;
        degreeHours += (value - 26) / 3600;
      }
    }
    return { hours, degreeHours, measured };
  };

  it('gives the same hours and degree-hours', () => {
    fc.assert(
      fc.property(anySeries, (took) => {
        const toMs = took.at(-1)?.[0] ?? 0;
        const { beyond, measuredH, unmeasuredH } = exposed({ took, toMs, maxGapMs: MAX_GAP });
        const plain = naive(took, 0, toMs);
        expect(measuredH).toBeCloseTo(plain.measured, 6);
        expect(beyond.limitHigh?.hours ?? 0).toBeCloseTo(plain.hours, 1);
        expect(beyond.limitHigh?.degreeHours ?? 0).toBeCloseTo(plain.degreeHours, 1);
        const unknown = Object.values(unmeasuredH).reduce((sum, hours) => sum + hours, 0);
        expect(measuredH + unknown).toBeCloseTo(toMs / HOUR, 6);
      }),
      { ...SEED, numRuns: 60 },
    );
  });

  it('finds the same fastest change as the plain search does', () => {
    fc.assert(
      fc.property(anySeries, (series) => {
        const took = series.map(([at, value]): [number, number] => [at, value ?? 22]);
        const pieces = took.slice(1).map(([toMs, to], n): Measured => {
          const [fromMs, from] = took[n] ?? [0, 0];
          return { fromMs, toMs, from, to };
        });
        const readings = took.map(([at, temperatureC]) => ({ minute: at / 60_000, temperatureC }));
        const plain = fastestChange({ readings, windowMin: 30, maxGapMin: 100_000 });
        const found = fastestIn(pieces, 30 * 60_000);
        if (plain.ok) expect(Math.abs(found?.change ?? Number.NaN)).toBeCloseTo(plain.value.largestChangeC, 8);
        else expect(found).toBeUndefined();
      }),
      SEED,
    );
  });
});

describe('The night before dawn, by the clock on the wall', () => {
  // The zone's rules: clocks in New York go forward on 8 March and back on 1 November 2026 (IANA time zone database).
  it.each([
    [
      'is nine hours from midnight to ten where the clock is put forward',
      Date.UTC(2026, 2, 8, 5),
      9,
      Date.UTC(2026, 2, 8, 14),
    ],
    [
      'is eleven hours from midnight to ten where the clock is put back',
      Date.UTC(2026, 10, 1, 4),
      11,
      Date.UTC(2026, 10, 1, 15),
    ],
    ['is ten hours on other nights', Date.UTC(2026, 5, 1, 4), 10, Date.UTC(2026, 5, 1, 14)],
  ])('%s', (_title, midnight, hours, over) => {
    const [night] = dawnSpans({ fromMs: midnight, toMs: midnight + 24 * HOUR }, 'America/New_York');
    expect(night).toEqual({ fromMs: midnight, toMs: over });
    expect(((night?.toMs ?? 0) - midnight) / HOUR).toBe(hours);
  });

  it('keeps the lowest oxygen of each night across a night of 25 hours, with the hours that were measured', () => {
    const midnight = Date.UTC(2026, 10, 1, 4);
    const fromMs = midnight - 24 * HOUR;
    const toMs = midnight + 48 * HOUR;
    // Lowest at 05:30 by the wall clock of each day: 09:30 UTC before the change, 10:30 UTC after it.
    const lows = [fromMs + 5.5 * HOUR, midnight + 6.5 * HOUR, midnight + 30.5 * HOUR];
    const took = Array.from({ length: 72 * 6 }, (_, n): Took => {
      const at = fromMs + (n * HOUR) / 6;
      const low = lows.indexOf(at);
      return [at, low < 0 ? 95 : 80 - low];
    });
    const { dawns } = exposureOf({
      pieces: piecesOf(readingsFrom(took, { fromMs, toMs, maxGapMs: HOUR })),
      span: { fromMs, toMs },
      wants: [],
      work: [],
      zone: 'America/New_York',
    });
    expect(dawns.map(({ low, atMs }) => [low, atMs])).toEqual(lows.map((at, n) => [80 - n, at]));
    expect(dawns.map(({ nightH }) => nightH)).toEqual([10, 11, 10]);
    expect(dawns[1]?.measuredH).toBeCloseTo(11, 9);
  });
});
