import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type HampelState,
  hampelCentred,
  hampelFilter,
  nextHampel,
  startHampel,
} from '../../../rules/statistics/hampel.js';
import { medianAbsoluteDeviation, quantile } from '../../../rules/statistics/quantile.js';
import { answered, refused } from '../../support/answered.js';

const SEED = { seed: 1974, numRuns: 1000 };
const FILTER = answered(hampelFilter({ window: 7, fewest: 5, spanMs: 600_000, threshold: 3, scaleFloor: 0.05 }));

const verdicts = (values: readonly number[], everyMs = 10_000): readonly string[] => {
  let state = startHampel();
  return values.map((value, i) => {
    state = nextHampel(FILTER, state, { atMs: i * everyMs, value });
    return state.verdict;
  });
};

describe('The outlier filter of a live stream', () => {
  it('passes the first four samples unjudged', () => {
    expect(verdicts([20, 90, 20, 20, 20])).toEqual(['too-few', 'too-few', 'too-few', 'too-few', 'usual']);
  });

  it('names one spike an outlier and forgets it', () => {
    expect(verdicts([20, 20, 20, 20, 20, 27.9, 20]).slice(5)).toEqual(['outlier', 'usual']);
  });

  it('names a true step a change at its third sample', () => {
    expect(verdicts([20, 20, 20, 20, 20, 20, 20, 24, 24, 24]).slice(7)).toEqual(['outlier', 'outlier', 'change']);
  });

  it('does not call two spikes on opposite sides a change', () => {
    expect(verdicts([20, 20, 20, 20, 20, 24, 16, 24]).slice(5)).toEqual(['outlier', 'outlier', 'outlier']);
  });

  it('counts three in a row on one side, whatever spike on the other side came before', () => {
    const wide = { ...FILTER, window: 15 };
    let state = startHampel();
    const seen = [...new Array<number>(12).fill(20), 24, 16, 16, 16].map((value, i) => {
      state = nextHampel(wide, state, { atMs: i * 10_000, value });
      return state.verdict;
    });
    expect(seen.slice(12)).toEqual(['outlier', 'outlier', 'outlier', 'change']);
  });

  it('is not alarmed by the last digit of a probe that shows one value', () => {
    expect(verdicts([20, 20, 20, 20, 20, 20, 20.1]).at(-1)).toBe('usual');
  });

  it('starts anew after a silence longer than its span', () => {
    let state: HampelState = startHampel();
    for (let i = 0; i < 7; i++) state = nextHampel(FILTER, state, { atMs: i * 10_000, value: 20 });
    expect(nextHampel(FILTER, state, { atMs: 3_600_000, value: 25 }).verdict).toBe('too-few');
  });

  it('leaves out what is not later or not a number', () => {
    const state = nextHampel(FILTER, startHampel(), { atMs: 1000, value: 20 });
    expect(nextHampel(FILTER, state, { atMs: 1000, value: 21 })).toBe(state);
    expect(nextHampel(FILTER, state, { atMs: 2000, value: Number.NaN })).toBe(state);
  });

  it('judges each sample as the whole window would at once, and stays finite', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: -50, max: 50 }), { minLength: 7, maxLength: 40 }), (values) => {
        let state = startHampel();
        for (const [i, value] of values.entries()) state = nextHampel(FILTER, state, { atMs: i * 10_000, value });
        const { median, mad } = answered(medianAbsoluteDeviation(values.slice(-7)));
        const far = Math.abs((values.at(-1) ?? 0) - median) > 3 * Math.max(0.05, 1.4826 * mad);
        expect(['outlier', 'change'].includes(state.verdict)).toBe(far);
        expect(state.median).toBe(median);
        expect(JSON.parse(JSON.stringify(state))).toEqual(state);
      }),
      SEED,
    );
  });
});

describe('The outlier filter looking back', () => {
  it('changes nothing but what it calls an outlier, for any finite series', () => {
    fc.assert(
      fc.property(fc.array(fc.double({ min: -1e15, max: 1e15, noNaN: true })), (values) => {
        for (const point of answered(hampelCentred({ values, reach: 3, threshold: 3 }))) {
          expect(Number.isFinite(point.filtered)).toBe(true);
          if (!point.outlier) expect(point.filtered).toBe(point.value);
        }
      }),
      SEED,
    );
  });

  it('refuses a series with a gap in it', () => {
    expect(refused(hampelCentred({ values: [1, Number.NaN, 2], reach: 1, threshold: 3 }))).toEqual({
      code: 'not-finite',
      what: 'value',
    });
  });
});

describe('A share of a series', () => {
  it('lies between the smallest and the largest, and grows with the share', () => {
    const anyValues = fc.array(fc.double({ min: -1e15, max: 1e15, noNaN: true }), { minLength: 1 });
    const anyShare = fc.double({ min: 0, max: 1, noNaN: true });
    fc.assert(
      fc.property(anyValues, anyShare, anyShare, (values, a, b) => {
        const low = answered(quantile({ values, share: Math.min(a, b) }));
        const high = answered(quantile({ values, share: Math.max(a, b) }));
        // One part in 1e12 of the spread for the last digit of a straight line between two values.
        const slack = 1e-12 * (Math.max(...values) - Math.min(...values));
        expect(Math.min(...values) - slack <= low && low <= high + slack && high <= Math.max(...values) + slack).toBe(
          true,
        );
      }),
      SEED,
    );
  });

  it('has no answer for nothing', () => {
    expect(refused(quantile({ values: [], share: 0.5 }))).toMatchObject({ because: 'too-few-readings' });
  });
});
