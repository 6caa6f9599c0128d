import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  defaultWaterSettings,
  freshWaterMemory,
  stepWater,
  type WaterSettings,
  type WaterStep,
  waterFlag,
} from '../../../rules/quality/out-of-water.js';

// Common practice, no source; the check case of the whole rule is in tests/conformance/qartod.test.ts.
const START_MS = Date.UTC(2026, 2, 14, 5);

/** Salinity every five seconds. */
const watch = (salinities: readonly number[], settings: WaterSettings = defaultWaterSettings): WaterStep[] => {
  let memory = freshWaterMemory;
  return salinities.map((salinity, n) => {
    const step = stepWater(memory, { atMs: START_MS + n * 5000, salinity }, settings);
    memory = step.memory;
    return step;
  });
};

const states = (steps: readonly WaterStep[]) => steps.map(({ state }) => state);
const quick: WaterSettings = { ...defaultWaterSettings, releaseMs: 10_000 };

describe('a probe out of the water', () => {
  test('is dry after ten seconds in air, counted from the first reading in air', () => {
    const steps = watch([31, 0.4, 0.1, 0, 0]);
    expect(states(steps)).toEqual(['wet', 'wet', 'wet', 'dry', 'dry']);
    expect(steps.map(({ changedAtMs }) => changedAtMs)).toEqual([
      START_MS,
      undefined,
      undefined,
      START_MS + 5000,
      undefined,
    ]);
  });

  test('is not dry for a moment of foam on the cell', () => {
    expect(states(watch([31, 1, 30, 1, 1, 30]))).not.toContain('dry');
  });

  test('is wet again only after its salinity has come back and stayed', () => {
    expect(states(watch([31, 0, 0, 0, 30, 0, 30, 30, 30], quick)).slice(4)).toEqual([
      'dry',
      'dry',
      'dry',
      'dry',
      'wet',
    ]);
  });

  test('does not count brackish water as being back: a stuck fresh-water valve stays on the screen', () => {
    expect(states(watch([31, 0, 0, 0, ...Array<number>(20).fill(20)], quick)).at(-1)).toBe('dry');
  });

  test('does not lower the bar by a splash on the way out', () => {
    expect(states(watch([31, 11, 0, 0, 0, 9, 9, 9, 9], quick)).at(-1)).toBe('dry');
  });

  test('is back at exactly 80 % of its last wet salinity, and in water at exactly 10', () => {
    expect(states(watch([25, 0, 0, 0, 20, 20, 20], quick)).at(-1)).toBe('wet');
    expect(states(watch([10]))).toEqual(['wet']);
  });

  test('stays dry through an hour without readings', () => {
    const dry = watch([31, 0, 0, 0]).at(-1)?.memory ?? freshWaterMemory;
    expect(stepWater(dry, { atMs: START_MS + 3_600_000, salinity: 0 }, quick).state).toBe('dry');
  });
});

test('in fresh or brackish water below 10 nothing can be said', () => {
  expect(states(watch([8, 0, 0, 0, 0, 8]))).toEqual(Array(6).fill('unknown'));
  expect(waterFlag).toEqual({ wet: 1, dry: 3, unknown: 2 });
});

test('zero is a threshold: with a bar of zero for air no probe is ever dry', () => {
  expect(states(watch([31, 0, 0, 0, 0], { ...quick, airMax: 0 }))).not.toContain('dry');
});

test('zero is a time: without confirmation the first reading in air is dry', () => {
  expect(states(watch([31, 0], { ...quick, confirmMs: 0 }))).toEqual(['wet', 'dry']);
});

test('a reading that is older, or no number, changes nothing', () => {
  const { memory } = stepWater(freshWaterMemory, { atMs: START_MS, salinity: 31 }, quick);
  expect(stepWater(memory, { atMs: START_MS - 1, salinity: 0 }, quick).memory).toBe(memory);
  expect(stepWater(memory, { atMs: START_MS + 1, salinity: Number.NaN }, quick).memory).toBe(memory);
});

test('the memory may be kept as JSON after any reading', () => {
  const salinities = fc.array(fc.constantFrom(0, 1.9, 2, 9.9, 10, 24, 25, 31), { maxLength: 40 });
  fc.assert(
    fc.property(salinities, (all) => {
      let kept = freshWaterMemory;
      const resumed = all.map((salinity, n) => {
        const step = stepWater(kept, { atMs: START_MS + n * 5000, salinity }, quick);
        kept = JSON.parse(JSON.stringify(step.memory)) as typeof kept;
        return step.state;
      });
      expect(resumed).toEqual(states(watch(all, quick)));
    }),
    { seed: 20260314, numRuns: 300 },
  );
});
