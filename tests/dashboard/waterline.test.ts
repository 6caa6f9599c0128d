import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { BOUND, CEILING_AT, REST_AT, waterline } from '../../dashboard/chart/waterline.js';
import type { Wants } from '../../rules/wire/picture.js';

const LARVAE: Wants = { targetLow: 24, targetHigh: 28, limitLow: 22, limitHigh: 30, ceilingHigh: 32, confirmed: true };
const at = (wants: Wants, value: number): number => waterline('temperature', wants)(value) ?? Number.NaN;

describe('the waterline', () => {
  it.each([
    [26, 0, 'the middle of the target'],
    [28, 1, 'the upper edge of the target'],
    [24, -1, 'the lower edge of the target'],
    [30, 2, 'the upper limit'],
    [22, -2, 'the lower limit'],
    [27, 0.5, 'half way to the edge'],
    [29, 1.5, 'half way from edge to limit'],
    [32, CEILING_AT, 'the ceiling'],
  ])('puts %d °C at %d: %s', (value, place) => {
    expect(at(LARVAE, value)).toBeCloseTo(place, 10);
  });

  it('bends where target and limit are not evenly spaced', () => {
    const wants: Wants = { targetLow: 18.3, targetHigh: 23.9, limitLow: 16, limitHigh: 26, confirmed: true };
    expect(at(wants, 21.1)).toBeCloseTo(0, 10);
    expect(at(wants, 26)).toBeCloseTo(2, 10);
    expect(at(wants, 16)).toBeCloseTo(-2, 10);
  });

  it('lets oxygen without an upper line rest in the upper water, and sink below its lower target', () => {
    const wants: Wants = { targetLow: 80, limitLow: 60, confirmed: true };
    const scale = waterline('oxygen-saturation', wants);
    expect(scale(140)).toBe(REST_AT);
    expect(scale(100)).toBeCloseTo(0, 10);
    expect(scale(80)).toBeCloseTo(-1, 10);
    expect(scale(60)).toBeCloseTo(-2, 10);
  });

  it('rests at minus a half where only the upper side has lines', () => {
    const scale = waterline('temperature', { targetHigh: 28, limitHigh: 30, confirmed: true });
    expect(scale(5)).toBe(-REST_AT);
    expect(scale(30)).toBeCloseTo(2, 10);
  });

  it('spreads limits without a target over the same scale', () => {
    const wants: Wants = { limitLow: 20, limitHigh: 30, confirmed: true };
    expect(at(wants, 25)).toBeCloseTo(0, 10);
    expect(at(wants, 30)).toBeCloseTo(2, 10);
    expect(at(wants, 20)).toBeCloseTo(-2, 10);
  });

  it('joins a lower target to an upper limit on one straight line', () => {
    const wants: Wants = { targetLow: 20, limitHigh: 32, confirmed: true };
    expect(at(wants, 20)).toBeCloseTo(-1, 10);
    expect(at(wants, 24)).toBeCloseTo(0, 10);
    expect(at(wants, 32)).toBeCloseTo(2, 10);
  });

  it('has a place for a ceiling that stands alone', () => {
    expect(at({ ceilingHigh: 32, confirmed: true }, 32)).toBeCloseTo(CEILING_AT, 10);
  });

  it('gives no place to a channel that wants nothing, nor to what is no number', () => {
    expect(waterline('temperature', undefined)(20)).toBeUndefined();
    expect(waterline('temperature', { confirmed: true })(20)).toBeUndefined();
    expect(at(LARVAE, Number.NaN)).toBeNaN();
    expect(waterline('temperature', LARVAE)(Number.POSITIVE_INFINITY)).toBeUndefined();
  });

  it('knows zero as a number', () => {
    expect(at({ targetLow: -1, targetHigh: 1, limitLow: -2, limitHigh: 2, confirmed: true }, 0)).toBeCloseTo(0, 10);
    expect(at({ targetLow: 0, targetHigh: 2, limitLow: -2, limitHigh: 4, confirmed: true }, 0)).toBeCloseTo(-1, 10);
  });

  it('takes a switch as right or wrong', () => {
    const scale = waterline('contact', { limitLow: 0.5, confirmed: true });
    expect(scale(1)).toBe(0);
    expect(scale(0)).toBe(-CEILING_AT);
  });

  it('does not break where target edges fall together', () => {
    const scale = waterline('temperature', {
      targetLow: 20,
      targetHigh: 20,
      limitLow: 18,
      limitHigh: 22,
      confirmed: true,
    });
    expect(scale(20)).toBe(0);
    expect(scale(22)).toBeCloseTo(2, 10);
  });

  const ordered = fc
    .tuple(...Array.from({ length: 5 }, () => fc.double({ min: 0.01, max: 40, noNaN: true })))
    .map((steps) => {
      let value = -20;
      const lines = steps.map((step) => {
        value += step;
        return value;
      });
      const [limitLow = 0, targetLow = 0, targetHigh = 0, limitHigh = 0, ceilingHigh = 0] = lines;
      return { limitLow, targetLow, targetHigh, limitHigh, ceilingHigh, confirmed: true };
    });
  const line = fc.constantFrom('limitLow', 'targetLow', 'targetHigh', 'limitHigh', 'ceilingHigh');
  const anyWants: fc.Arbitrary<Wants> = fc
    .tuple(ordered, fc.uniqueArray(line, { maxLength: 4 }))
    .map(
      ([wants, without]) =>
        Object.fromEntries(Object.entries(wants).filter(([key]) => !without.some((w) => w === key))) as Wants,
    );
  const value = fc.double({ min: -500, max: 500, noNaN: true });

  it('never leaves the drawing, whatever lines a channel has', () => {
    fc.assert(
      fc.property(anyWants, value, (wants, v) => {
        const place = waterline('temperature', wants)(v);
        return place !== undefined && Math.abs(place) <= BOUND;
      }),
      { seed: 7, numRuns: 2000 },
    );
  });

  it('never puts a warmer tank below a colder one', () => {
    fc.assert(
      fc.property(anyWants, value, value, (wants, a, b) => {
        const scale = waterline('temperature', wants);
        const [low, high] = [scale(Math.min(a, b)), scale(Math.max(a, b))];
        return low !== undefined && high !== undefined && low <= high + 1e-9;
      }),
      { seed: 7, numRuns: 2000 },
    );
  });
});
