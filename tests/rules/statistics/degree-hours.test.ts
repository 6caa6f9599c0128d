import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type BeyondLine,
  breakDegreeHours,
  type DegreeHoursState,
  degreeHours,
  nextDegreeHours,
  startDegreeHours,
  totalDegreeHours,
} from '../../../rules/statistics/degree-hours.js';
import type { Sample } from '../../../rules/statistics/sample.js';

const SEED = { seed: 48, numRuns: 2000 };
const HOUR = 3_600_000;
const HOT: BeyondLine = { line: 26, side: 'above', maxGapMs: HOUR };

const anyStream = fc.array(
  fc.record({ atMs: fc.integer({ min: 0, max: 48 * HOUR }), value: fc.double({ min: 10, max: 40, noNaN: true }) }),
  { maxLength: 50 },
);
const stream = (what: BeyondLine, samples: readonly Sample[]) =>
  samples.reduce<DegreeHoursState>((state, sample) => nextDegreeHours(what, state, sample), startDegreeHours());
const byTime = (samples: readonly Sample[]) => samples.toSorted((a, b) => a.atMs - b.atMs);

describe('Degree-hours sample by sample', () => {
  it('are those of the whole series at once, also when a time comes twice', () => {
    fc.assert(
      fc.property(anyStream, (samples) => {
        expect(totalDegreeHours(HOT, stream(HOT, byTime(samples)))).toEqual(degreeHours(HOT, samples));
      }),
      SEED,
    );
  });

  it('survive being written as JSON and read again half-way', () => {
    fc.assert(
      fc.property(anyStream, fc.nat(50), (samples, cut) => {
        const sorted = byTime(samples);
        const kept: DegreeHoursState = JSON.parse(JSON.stringify(stream(HOT, sorted.slice(0, cut))));
        const resumed = sorted.slice(cut).reduce((state, sample) => nextDegreeHours(HOT, state, sample), kept);
        expect(resumed).toEqual(stream(HOT, sorted));
      }),
      SEED,
    );
  });

  it('count every hour once: as covered or as unknown', () => {
    fc.assert(
      fc.property(anyStream, (samples) => {
        const { hoursCovered, hoursGap, hoursBeyond, degreeHours: sum } = degreeHours(HOT, samples);
        const times = samples.map((sample) => sample.atMs);
        const span = samples.length === 0 ? 0 : (Math.max(...times) - Math.min(...times)) / HOUR;
        expect(hoursCovered + hoursGap).toBeCloseTo(span, 9);
        expect(hoursBeyond).toBeLessThanOrEqual(hoursCovered + 1e-9);
        expect(sum).toBeGreaterThanOrEqual(0);
      }),
      SEED,
    );
  });

  it('above and below a line differ by the area between stream and line', () => {
    fc.assert(
      fc.property(anyStream, (samples) => {
        const whole = { line: 26 };
        const above = degreeHours({ ...whole, side: 'above' }, samples).degreeHours;
        const below = degreeHours({ ...whole, side: 'below' }, samples).degreeHours;
        const sorted = byTime(samples).filter((sample, i, all) => all[i + 1]?.atMs !== sample.atMs);
        const area = sorted.reduce((sum, { atMs, value }, i) => {
          const before = sorted[i - 1];
          if (before === undefined) return sum;
          return sum + (((atMs - before.atMs) / HOUR) * (value + before.value - 52)) / 2;
        }, 0);
        expect(above - below).toBeCloseTo(area, 6);
      }),
      SEED,
    );
  });

  it('never shrink when the water is warmer', () => {
    fc.assert(
      fc.property(anyStream, fc.double({ min: 0, max: 5, noNaN: true }), (samples, by) => {
        const warmer = samples.map((sample) => ({ ...sample, value: sample.value + by }));
        const [before, after] = [degreeHours(HOT, samples), degreeHours(HOT, warmer)];
        expect(after.degreeHours).toBeGreaterThanOrEqual(before.degreeHours - 1e-9);
        expect(after.hoursBeyond).toBeGreaterThanOrEqual(before.hoursBeyond - 1e-9);
      }),
      SEED,
    );
  });

  it('are finite for any finite samples', () => {
    const any = fc.double({ noNaN: true, noDefaultInfinity: true });
    fc.assert(
      fc.property(fc.array(fc.record({ atMs: any, value: any })), any, (samples, line) => {
        const { lowerBound, ...sums } = degreeHours(
          { line: Math.min(1e15, Math.max(-1e15, line)), side: 'above' },
          samples,
        );
        expect(Object.values(sums).every(Number.isFinite)).toBe(true);
        expect(typeof lowerBound).toBe('boolean');
      }),
      SEED,
    );
  });
});

describe('Time that nobody watched', () => {
  const at = (hour: number, value: number): Sample => ({ atMs: hour * HOUR, value });

  it('is unknown when it is longer than allowed, and makes the total a lower bound', () => {
    expect(degreeHours(HOT, [at(0, 28), at(1, 28), at(7, 28), at(8, 28)])).toEqual({
      degreeHours: 4,
      hoursBeyond: 2,
      hoursCovered: 2,
      hoursGap: 6,
      lowerBound: true,
      late: 0,
    });
  });

  it('leaves the total as it is while it is a tenth or less', () => {
    const samples = Array.from({ length: 20 }, (_, hour) => at(hour, 27));
    expect(degreeHours(HOT, [...samples, at(21, 27)])).toMatchObject({ hoursGap: 2, lowerBound: false });
  });

  it('is unknown however short it is when the probe was out of water', () => {
    const dry = breakDegreeHours(stream(HOT, [at(0, 28), at(0.5, 28)]));
    const state = nextDegreeHours(HOT, nextDegreeHours(HOT, dry, at(0.75, 28)), at(1, 28));
    expect(totalDegreeHours(HOT, state)).toMatchObject({ degreeHours: 1.5, hoursCovered: 0.75, hoursGap: 0.25 });
  });

  it('counts a sample that came too late, and does not take it', () => {
    const state = nextDegreeHours(HOT, stream(HOT, [at(0, 28), at(1, 28)]), at(0.5, 40));
    expect(totalDegreeHours(HOT, state)).toMatchObject({ degreeHours: 2, late: 1 });
  });

  it('is nothing for one sample', () => {
    expect(degreeHours(HOT, [at(0, 40)])).toMatchObject({ degreeHours: 0, hoursBeyond: 0, hoursCovered: 0 });
  });

  it('works at a line of zero', () => {
    expect(degreeHours({ line: 0, side: 'below' }, [at(0, -1), at(1, -1)])).toMatchObject({ degreeHours: 1 });
  });
});
