import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { theilSen } from '../../../rules/statistics/theil-sen.js';
import { answered, refused } from '../../support/answered.js';

const SEED = { seed: 17, numRuns: 1000 };
const line = (count: number) => Array.from({ length: count }, (_, i) => ({ x: i, y: 2 * i + 1 }));

describe('The Theil-Sen slope', () => {
  it('is not moved by three wild readings in twenty', () => {
    const points = line(20).map((p, i) => ([3, 9, 16].includes(i) ? { ...p, y: 1000 } : p));
    expect(answered(theilSen({ points })).slope).toBeCloseTo(2, 9);
  });

  it('has no interval for nine points, and one for ten', () => {
    expect(answered(theilSen({ points: line(9) }))).not.toHaveProperty('interval');
    expect(answered(theilSen({ points: line(10) })).interval).toEqual({ low: 2, high: 2 });
  });

  it('is zero with no trend when all readings are the same', () => {
    const points = line(12).map(({ x }) => ({ x, y: 0 }));
    const { slope, interval, trend } = answered(theilSen({ points }));
    expect([slope, trend.s, trend.z, trend.p]).toEqual([0, 0, 0, 1]);
    expect(interval).toEqual({ low: 0, high: 0 });
  });

  it('learns nothing of the trend from two readings at one time', () => {
    const twice = [
      { x: 0, y: 1 },
      { x: 1, y: 1 },
      { x: 1, y: 9 },
      { x: 2, y: 1 },
    ];
    // Rising: 0 to the 9. Falling: the 9 to 2. The two at 1 are not compared.
    expect(answered(theilSen({ points: twice })).trend.s).toBe(0);
  });

  it('thins ten thousand points evenly and finds the same line', () => {
    const { slope, points } = answered(theilSen({ points: line(10_000) }));
    expect(slope).toBe(2);
    expect(points).toBe(500);
  });

  it('gives finite numbers in order for any points, or a reason', () => {
    const any = fc.double({ noNaN: true, noDefaultInfinity: true });
    const anyPoints = fc.array(fc.record({ x: any, y: any }), { maxLength: 25 });
    fc.assert(
      fc.property(anyPoints, (points) => {
        const fit = theilSen({ points });
        if (!fit.ok) return;
        const { slope, intercept, interval, trend } = fit.value;
        const numbers = [slope, intercept, interval?.low ?? 0, interval?.high ?? 0, ...Object.values(trend)];
        expect(numbers.every(Number.isFinite)).toBe(true);
        expect(trend.p >= 0 && trend.p <= 1 && Math.abs(trend.tau) <= 1).toBe(true);
        if (interval !== undefined) expect(interval.low <= slope && slope <= interval.high).toBe(true);
      }),
      SEED,
    );
  });

  it('turns over when the readings do, and keeps its interval', () => {
    const anyPoints = fc.array(
      fc.record({ x: fc.integer({ min: 0, max: 500 }), y: fc.integer({ min: -99, max: 99 }) }),
      { minLength: 10, maxLength: 30 },
    );
    fc.assert(
      fc.property(anyPoints, (points) => {
        const [up, down] = [theilSen({ points }), theilSen({ points: points.map(({ x, y }) => ({ x, y: -y })) })];
        if (!up.ok || !down.ok) return;
        expect(down.value.slope).toBeCloseTo(-up.value.slope, 9);
        expect(down.value.interval?.low ?? 0).toBeCloseTo(-(up.value.interval?.high ?? 0), 9);
      }),
      SEED,
    );
  });

  it('gives a reason for readings all at one time, too few, or not numbers', () => {
    expect(refused(theilSen({ points: line(5).map(({ y }) => ({ x: 1, y })) }))).toMatchObject({
      because: 'all-at-one-time',
    });
    expect(refused(theilSen({ points: line(2) }))).toMatchObject({ because: 'too-few-readings' });
    expect(refused(theilSen({ points: [...line(4), { x: 5, y: Number.NaN }] }))).toEqual({
      code: 'not-finite',
      what: 'y',
    });
  });

  it('gives a reason for a slope beyond any number', () => {
    const points = [0, 1e-320, 2e-320].map((x, i) => ({ x, y: i * 1e14 }));
    expect(refused(theilSen({ points }))).toMatchObject({ because: 'slope-too-steep' });
  });
});
