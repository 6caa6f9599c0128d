import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type CusumState, cusumChart, judgeCusum, nextCusum, startCusum } from '../../../rules/statistics/cusum.js';
import { type EwmaState, ewmaChart, judgeEwma, nextEwma, startEwma } from '../../../rules/statistics/ewma.js';
import { cusumRunLength, ewmaRunLength } from '../../../rules/statistics/run-length.js';
import { answered, refused } from '../../support/answered.js';

const SEED = { seed: 1959, numRuns: 1000 };
const EWMA = answered(ewmaChart({ lambda: 0.1, centre: 30, sigma: 0.2, width: 2.814, limits: 'opening' }));
const CUSUM = answered(cusumChart({ centre: 30, slack: 0.1, limit: 1 }));
const anyFinite = fc.double({ noNaN: true, noDefaultInfinity: true });
const anyStream = fc.array(fc.double({ min: 20, max: 40, noNaN: true }), { maxLength: 60 });

/** Normal deviates from a fixed seed (xorshift and Box-Muller). */
const deviates = (seed: number): (() => number) => {
  let state = seed;
  const uniform = (): number => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return ((state >>> 0) + 0.5) / 2 ** 32;
  };
  return () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
};

/** Mean number of samples until a run signals, and its standard error. */
const ran = (run: () => number, runs: number): { readonly mean: number; readonly error: number } => {
  const lengths = Array.from({ length: runs }, run);
  const mean = lengths.reduce((a, b) => a + b, 0) / runs;
  const variance = lengths.reduce((sum, length) => sum + (length - mean) ** 2, 0) / (runs - 1);
  return { mean, error: Math.sqrt(variance / runs) };
};

describe('The EWMA of salinity', () => {
  it('is the weighted sum of all samples, worked at once', () => {
    fc.assert(
      fc.property(anyStream, (values) => {
        const state = values.reduce<EwmaState>((s, value) => nextEwma(EWMA, s, value), startEwma(EWMA));
        const weight = (age: number): number => 0.1 * 0.9 ** age;
        const sum = values.reduce((total, value, i) => total + weight(values.length - 1 - i) * value, 0);
        expect(state.ewma).toBeCloseTo(sum + 0.9 ** values.length * 30, 9);
        expect(state.count).toBe(values.length);
      }),
      SEED,
    );
  });

  it('signals low for a slow drift that no single reading would', () => {
    let state = startEwma(EWMA);
    for (let i = 0; i < 20; i++) state = nextEwma(EWMA, state, 29.75);
    expect(judgeEwma(EWMA, state).signal).toBe('low');
  });

  it('says nothing before the first sample', () => {
    expect(judgeEwma(EWMA, startEwma(EWMA))).toEqual({ low: 30, high: 30, signal: 'none' });
  });

  it('stays finite for any finite stream, and skips what is not a number', () => {
    fc.assert(
      fc.property(fc.array(anyFinite), (values) => {
        const state = values.reduce<EwmaState>((s, value) => nextEwma(EWMA, s, value), startEwma(EWMA));
        expect(Number.isFinite(state.ewma)).toBe(true);
      }),
      SEED,
    );
    const state = nextEwma(EWMA, startEwma(EWMA), 29);
    expect(nextEwma(EWMA, state, Number.NaN)).toBe(state);
  });

  it('refuses a weight of nothing and a spread of nothing', () => {
    expect(refused(ewmaChart({ ...EWMA, lambda: 0 }))).toMatchObject({ what: 'lambda' });
    expect(refused(ewmaChart({ ...EWMA, sigma: 0 }))).toMatchObject({ what: 'sigma' });
  });
});

describe('The CUSUM of salinity', () => {
  it('is the largest sum over any stretch that ends now, worked at once', () => {
    fc.assert(
      fc.property(anyStream, (values) => {
        const state = values.reduce<CusumState>((s, value) => nextCusum(CUSUM, s, value), startCusum());
        const sums = (sign: number): number[] =>
          values.map((_, i) => values.slice(i).reduce((sum, value) => sum + sign * (value - 30) - 0.1, 0));
        expect(state.high).toBeCloseTo(Math.max(0, ...sums(1)), 9);
        expect(state.low).toBeCloseTo(Math.max(0, ...sums(-1)), 9);
      }),
      SEED,
    );
  });

  it('says how many samples ago the water began to freshen', () => {
    let state = startCusum();
    for (const value of [30, 30.05, 30, 29.6, 29.6, 29.6, 29.6]) state = nextCusum(CUSUM, state, value);
    const verdict = judgeCusum(CUSUM, state);
    expect(verdict).toMatchObject({ kind: 'low', samples: 4 });
    expect(verdict.kind === 'none' ? 0 : verdict.sum).toBeCloseTo(1.2, 9);
  });

  it('stays finite for any finite stream, and skips what is not a number', () => {
    fc.assert(
      fc.property(fc.array(anyFinite), (values) => {
        const state = values.reduce<CusumState>((s, value) => nextCusum(CUSUM, s, value), startCusum());
        expect(Object.values(state).every(Number.isFinite)).toBe(true);
        expect(JSON.parse(JSON.stringify(state))).toEqual(state);
      }),
      SEED,
    );
    expect(nextCusum(CUSUM, startCusum(), Number.POSITIVE_INFINITY)).toEqual(startCusum());
  });
});

// The run length by equation against the charts themselves on normal samples: within four standard errors.
describe('The average run of a chart until it signals', () => {
  it.each([0, 1, 2])('is what the CUSUM does on normal samples shifted by %d sigma', (shiftSigma) => {
    const chart = { centre: 0, slack: 0.5, limit: 4 };
    const next = deviates(4711 + shiftSigma);
    const { mean, error } = ran(() => {
      let [state, count] = [startCusum(), 0];
      for (; judgeCusum(chart, state).kind === 'none'; count++) state = nextCusum(chart, state, next() + shiftSigma);
      return count;
    }, 2000);
    const expected = answered(cusumRunLength({ slackSigma: 0.5, limitSigma: 4, shiftSigma }));
    expect(Math.abs(mean - expected)).toBeLessThan(4 * error);
  });

  it.each([0.5, 1, 2])('is what the EWMA does on normal samples shifted by %d sigma', (shiftSigma) => {
    const chart = { lambda: 0.2, centre: 0, sigma: 1, width: 2.962, limits: 'steady' } as const;
    const next = deviates(815 + shiftSigma * 10);
    const { mean, error } = ran(() => {
      let [state, count] = [startEwma(chart), 0];
      for (; judgeEwma(chart, state).signal === 'none'; count++) state = nextEwma(chart, state, next() + shiftSigma);
      return count;
    }, 2000);
    const expected = answered(ewmaRunLength({ lambda: 0.2, width: 2.962, shiftSigma }));
    expect(Math.abs(mean - expected)).toBeLessThan(4 * error);
  });

  it('is refused where the equations cannot tell', () => {
    expect(refused(cusumRunLength({ slackSigma: 3, limitSigma: 10, shiftSigma: 0 }))).toMatchObject({
      because: 'run-length-too-long',
    });
  });
});
