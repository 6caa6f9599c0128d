import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { slideSlopeWindow, slopePerHour, startSlopeWindow } from '../../../rules/statistics/slope-window.js';
import { theilSen } from '../../../rules/statistics/theil-sen.js';
import { answered, refused } from '../../support/answered.js';

const SEED = { seed: 1968, numRuns: 1000 };
const MINUTE = 60_000;
const anySample = fc.record({
  atMs: fc.integer({ min: 0, max: 7_200_000 }),
  value: fc.double({ min: -50, max: 50, noNaN: true }),
});
/** At times of their own: which of two readings at one time counts depends on which came last. */
const anyStream = fc.uniqueArray(anySample, { maxLength: 60, selector: (sample) => sample.atMs });

const slide = (samples: readonly { readonly atMs: number; readonly value: number }[], spanMs: number, stepMs = 1) =>
  samples.reduce(slideSlopeWindow, startSlopeWindow({ spanMs, stepMs }));

describe('The slope of a stream over its recent past', () => {
  it('is the same sample by sample as over the whole window at once', () => {
    fc.assert(
      fc.property(anyStream, fc.integer({ min: 1, max: 7_200_000 }), (samples, spanMs) => {
        const newestMs = Math.max(...samples.map((sample) => sample.atMs));
        const inside = samples.filter((sample) => newestMs - sample.atMs <= spanMs);
        const streamed = slopePerHour(slide(samples, spanMs));
        const points = inside.map(({ atMs, value }) => ({ x: (atMs - newestMs) / 3_600_000, y: value }));
        const batch = theilSen({ points });
        expect(streamed.ok).toBe(batch.ok);
        if (!streamed.ok || !batch.ok) return;
        expect(streamed.value.slope).toBe(batch.value.slope);
        expect(streamed.value.interval).toEqual(batch.value.interval);
        expect(streamed.value.trend).toEqual(batch.value.trend);
      }),
      SEED,
    );
  });

  it('does not depend on the order in which the samples came', () => {
    fc.assert(
      fc.property(
        anyStream,
        fc.integer({ min: 1, max: 7_200_000 }),
        fc.integer({ min: 1, max: 600_000 }),
        (s, span, step) => {
          const sorted = s.toSorted((a, b) => a.atMs - b.atMs);
          expect(slide(s, span, step)).toEqual(slide(sorted, span, step));
          expect(slide(s.toReversed(), span, step)).toEqual(slide(sorted, span, step));
        },
      ),
      SEED,
    );
  });

  it('holds one sample for each step that its span touches', () => {
    const samples = Array.from({ length: 3600 }, (_, i) => ({ atMs: i * 1000, value: i }));
    expect(slide(samples, 30 * MINUTE, MINUTE).samples).toHaveLength(31);
  });

  it('survives being written as JSON and read again', () => {
    const window = slide(
      [
        { atMs: 0, value: 7 },
        { atMs: MINUTE, value: 6.9 },
      ],
      10 * MINUTE,
    );
    expect(JSON.parse(JSON.stringify(window))).toEqual(window);
  });

  it('takes the last of two readings at one time', () => {
    const window = slide(
      [
        { atMs: 5, value: 7 },
        { atMs: 5, value: 6 },
      ],
      MINUTE,
    );
    expect(window.samples).toEqual([{ atMs: 5, value: 6 }]);
  });

  it('leaves out what is not a number, and a sample that is too old', () => {
    const window = slide([{ atMs: 10 * MINUTE, value: 7 }], MINUTE);
    expect(slideSlopeWindow(window, { atMs: 11 * MINUTE, value: Number.NaN })).toBe(window);
    expect(slideSlopeWindow(window, { atMs: 0, value: 8 })).toEqual(window);
  });

  it('is an hour’s fall for water that falls 0.1 every six minutes, on today’s clock', () => {
    const start = Date.UTC(2024, 5, 1);
    const samples = Array.from({ length: 11 }, (_, i) => ({ atMs: start + i * 6 * MINUTE, value: 7 - 0.1 * i }));
    const { slope, interval, points, fromMs, toMs } = answered(slopePerHour(slide(samples, 60 * MINUTE)));
    expect(slope).toBeCloseTo(-1, 9);
    expect(interval).toBeDefined();
    expect([points, fromMs, toMs]).toEqual([11, start, start + 60 * MINUTE]);
  });

  it('needs three samples', () => {
    expect(refused(slopePerHour(slide([{ atMs: 0, value: 7 }], MINUTE)))).toMatchObject({
      because: 'too-few-readings',
    });
  });
});
