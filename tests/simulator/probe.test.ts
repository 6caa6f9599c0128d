import { describe, expect, it } from 'vitest';
import { type Probe, readProbe, stepFelt, type Truth } from '../../simulator/probe.js';
import { probe } from '../../simulator/world/build.js';

const AT = Date.UTC(2026, 5, 3, 2);
const inTank = (quantity: Probe['quantity'], own: Partial<Probe> = {}): Probe => ({
  ...probe({ kind: 'tank', id: 'L3' }, quantity, 0.2),
  ...own,
});
const truth = (value: number, own: Partial<Truth> = {}): Truth => ({ value, inAir: false, calm: false, ...own });
const deviation = (values: readonly number[]): number => {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  return Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / values.length);
};
const readings = (one: Probe, what: Truth): readonly number[] =>
  Array.from({ length: 2000 }, (_, i) => readProbe(what.value, one, what, AT + 5000 * i, 7));

describe('what a probe makes of the water', () => {
  // Definition of a first-order lag: 63.2 % of a step in one time constant.
  it('has made 63 % of a step after its lag, in one step of time or in many', () => {
    const one = inTank('temperature', { lagS: 30 });
    expect(stepFelt(20, one, truth(30), 30)).toBeCloseTo(30 - 10 / Math.E, 9);
    let felt = 20;
    for (let i = 0; i < 30; i++) felt = stepFelt(felt, one, truth(30), 1);
    expect(felt).toBeCloseTo(30 - 10 / Math.E, 9);
  });

  it('shows the water at once when it is first put in', () => {
    expect(stepFelt(undefined, inTank('temperature'), truth(23), 1)).toBe(23);
  });

  it('warms and cools much more slowly in air than in water', () => {
    const one = inTank('temperature', { lagS: 20 });
    expect(stepFelt(24, one, truth(18, { inAir: true }), 60)).toBeGreaterThan(stepFelt(24, one, truth(18), 60) + 3);
  });

  it('speaks in multiples of its resolution, and in short decimals', () => {
    for (const value of readings(inTank('temperature', { resolution: 0.0625 }), truth(23.4))) {
      expect(Number.isInteger(value / 0.0625)).toBe(true);
    }
    for (const value of readings(inTank('salinity', { resolution: 0.1 }), truth(31.234))) {
      expect(String(value)).toMatch(/^\d+(\.\d)?$/);
    }
  });

  it('trembles as much as its maker says while air stirs the water, and a third as much when it stands', () => {
    const one = inTank('oxygen-saturation', { noise: 0.6, resolution: 0.001, driftPerDay: 0 });
    expect(Math.abs(deviation(readings(one, truth(95))) - 0.6)).toBeLessThan(0.05);
    expect(Math.abs(deviation(readings(one, truth(95, { calm: true }))) - 0.2)).toBeLessThan(0.02);
  });

  it('keeps its offset, drifts from day to day, and starts anew once a week', () => {
    const one = inTank('salinity', { noise: 0, resolution: 0.0001, offset: 0.3, driftPerDay: -0.1 });
    const days = Array.from({ length: 15 }, (_, day) => readProbe(32, one, truth(32), AT + day * 86_400_000, 7) - 32.3);
    expect(Math.max(...days)).toBeLessThanOrEqual(0.0001);
    expect(Math.min(...days)).toBeGreaterThan(-0.7);
    const steps = days.slice(1).map((value, i) => value - (days[i] ?? 0));
    expect(steps.filter((step) => step > 0.5)).toHaveLength(2);
    expect(steps.filter((step) => Math.abs(step + 0.1) < 0.001)).toHaveLength(12);
  });

  it('never shows less than nothing', () => {
    for (const value of readings(inTank('conductivity', { offset: -0.5 }), truth(0.03))) expect(value).toBe(0);
  });
});
