import { describe, expect, it } from 'vitest';
import { normalAt, randomFrom, seedFrom, uniformAt, wanderAt } from '../../simulator/random.js';

const draws = (seed: number, count = 20_000): readonly number[] => {
  const random = randomFrom(seed);
  return Array.from({ length: count }, () => random.normal(0, 1));
};
const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;
const spread = (values: readonly number[]): number => {
  const middle = mean(values);
  return Math.sqrt(mean(values.map((value) => (value - middle) ** 2)));
};

describe('seeded chance', () => {
  it('gives the same night for the same seed, and another for another', () => {
    expect(draws(7, 50)).toEqual(draws(7, 50));
    expect(draws(7, 50)).not.toEqual(draws(8, 50));
  });

  it('gives a fork the same future however much its parent has drawn', () => {
    const early = randomFrom(3).fork('rain');
    const parent = randomFrom(3);
    for (let i = 0; i < 100; i++) parent.uniform(0, 1);
    expect(parent.fork('rain').uniform(0, 1)).toBe(early.uniform(0, 1));
  });

  // Standard errors for 20,000 draws: 0.007 of the mean, 0.005 of the deviation; five of each are allowed.
  it('draws normal deviates with mean 0 and deviation 1', () => {
    expect(Math.abs(mean(draws(11)))).toBeLessThan(0.035);
    expect(Math.abs(spread(draws(11)) - 1)).toBeLessThan(0.025);
  });

  it('gives each moment its own deviate, with mean 0 and deviation 1, at any whole second of this century', () => {
    const at = Array.from({ length: 20_000 }, (_, i) => normalAt(5, 1_780_000_000_000 + 1000 * i));
    expect(new Set(at).size).toBe(20_000);
    expect(Math.abs(mean(at))).toBeLessThan(0.035);
    expect(Math.abs(spread(at) - 1)).toBeLessThan(0.025);
    expect(normalAt(5, 1_780_000_000_000)).toBe(at[0]);
  });

  it('does not carry one moment over to the next, nor one label to another', () => {
    const pairs = Array.from(
      { length: 20_000 },
      (_, i) => [normalAt(5, 1000 * i), normalAt(5, 1000 * (i + 1))] as const,
    );
    expect(Math.abs(mean(pairs.map(([now, next]) => now * next)))).toBeLessThan(0.035);
    const labels = Array.from(
      { length: 20_000 },
      (_, i) => normalAt(seedFrom(1, 'L1'), i) * normalAt(seedFrom(1, 'L2'), i),
    );
    expect(Math.abs(mean(labels))).toBeLessThan(0.035);
  });

  it('stays in [0, 1)', () => {
    const values = Array.from({ length: 50_000 }, (_, i) => uniformAt(9, i * 977));
    expect(Math.min(...values.slice(0, 10_000))).toBeGreaterThanOrEqual(0);
    expect(values.every((value) => value >= 0 && value < 1)).toBe(true);
  });

  it('wanders without a jump and stays between -1 and 1', () => {
    const hour = Array.from({ length: 2000 }, (_, i) => wanderAt(4, i * 60_000, 3_600_000));
    const jumps = hour.slice(1).map((value, i) => Math.abs(value - (hour[i] ?? value)));
    // Smoothstep rises at most 1.5 times its mean slope: 2 x 1.5 / 60 a minute.
    expect(Math.max(...jumps)).toBeLessThanOrEqual(0.05 + 1e-12);
    expect(hour.every((value) => Math.abs(value) <= 1)).toBe(true);
  });
});
