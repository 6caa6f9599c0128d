import { describe, expect, it } from 'vitest';
import { type CusumChart, judgeCusum, nextCusum, startCusum } from '../../rules/statistics/cusum.js';
import { type EwmaChart, judgeEwma, nextEwma, startEwma } from '../../rules/statistics/ewma.js';
import { hampelCentred, nextHampel, startHampel } from '../../rules/statistics/hampel.js';
import { mannKendall } from '../../rules/statistics/mann-kendall.js';
import { normalAbove, normalQuantile } from '../../rules/statistics/normal.js';
import { MAD_TO_SIGMA, medianAbsoluteDeviation, quantile } from '../../rules/statistics/quantile.js';
import { cusumRunLength, ewmaRunLength } from '../../rules/statistics/run-length.js';
import { pairSlopes, slopeInterval, theilSen } from '../../rules/statistics/theil-sen.js';
import { answered, expectWithin } from '../support/answered.js';
import { checkRows } from '../support/check-values.js';

const pointsOf = (series: string) =>
  checkRows('statistics/trend-points.csv')
    .filter((row) => row.text('series') === series)
    .map(({ number }) => ({ x: number('x'), y: number('y') }));

describe('The Theil-Sen slope and the Mann-Kendall test', () => {
  // USEPA 2009 Unified Guidance, example 17-6, as R EnvStats kendallTrendTest gives it.
  it('agree with USEPA example 17-6', () => {
    const { slope, intercept, interval, trend } = answered(theilSen({ points: pointsOf('usepa-17-6') }));
    expect(trend.s).toBe(194);
    expectWithin(trend.varianceS, 1428, 1e-6, 'variance');
    expectWithin(trend.z, 5.107322, 1e-6, 'z');
    expectWithin(trend.p, 3.267574e-7, 1e-12, 'p');
    expectWithin(trend.tau, 0.7667984, 1e-7, 'tau');
    expectWithin(slope, 26.6666667, 1e-7, 'slope');
    expectWithin(intercept, -1909.3333333, 1e-4, 'intercept');
    expectWithin(interval?.low ?? Number.NaN, 20, 1e-5, 'low');
    expectWithin(interval?.high ?? Number.NaN, 35.71182, 1e-5, 'high');
  });

  // Slope from USEPA example 17-7 data; the rest computed, scipy 1.10.1 agrees on the slope.
  it('agree with the data of USEPA example 17-7', () => {
    const { slope, interval, trend } = answered(theilSen({ points: pointsOf('usepa-17-7') }));
    expect(trend.s).toBe(25);
    expectWithin(trend.varianceS, 125, 1e-6, 'variance');
    expectWithin(trend.z, 2.146625, 1e-6, 'z');
    expectWithin(trend.p, 0.031823, 1e-6, 'p');
    expectWithin(slope, 1.333333333, 1e-6, 'slope');
    expectWithin(interval?.low ?? Number.NaN, 0.399208, 1e-6, 'low');
    expectWithin(interval?.high ?? Number.NaN, 2.333333, 1e-6, 'high');
  });

  // Sen 1968 by way of the test of the R package deming; S, variance, z and the ends by Gilbert's ranks computed.
  it('agree with the example of Sen 1968, which is too short for an interval of its own', () => {
    const points = pointsOf('sen-1968');
    const { slope, intercept, interval, trend } = answered(theilSen({ points, confidence: 0.93 }));
    expect(interval).toBeUndefined();
    expectWithin(slope, 4, 1e-9, 'slope');
    expectWithin(intercept, 4, 1e-9, 'intercept');
    expect(trend.s).toBe(21);
    expectWithin(trend.varianceS, 44.333333, 1e-6, 'variance');
    expectWithin(trend.z, 3.003757, 1e-6, 'z');
    const gilbert = slopeInterval({ slopes: pairSlopes(points), trend: mannKendall(points), confidence: 0.93 });
    expectWithin(gilbert?.low ?? Number.NaN, 3.730995, 1e-6, 'low');
    expectWithin(gilbert?.high ?? Number.NaN, 4.284619, 1e-6, 'high');
  });
});

const chartRows = (chart: string) =>
  checkRows('statistics/control-charts.csv').filter((row) => row.text('chart') === chart);

describe('The EWMA chart', () => {
  const charts: readonly (readonly [string, EwmaChart])[] = [
    // NIST/SEMATECH e-Handbook 6.3.2.4.
    ['nist', { lambda: 0.3, centre: 50, sigma: 2.0539, width: 3, limits: 'steady' }],
    // Samples of Montgomery's table 9.1; values computed.
    ['montgomery-ewma', { lambda: 0.1, centre: 10, sigma: 1, width: 2.7, limits: 'opening' }],
  ];
  it.each(charts)('follows the example %s sample by sample', (name, chart) => {
    let state = startEwma(chart);
    for (const row of chartRows(name)) {
      state = nextEwma(chart, state, row.number('value'));
      const { low, high, signal } = judgeEwma(chart, state);
      expectWithin(state.ewma, row.number('high'), row.number('tolerance'), row.line);
      expectWithin(low, row.number('lowLimit'), row.number('tolerance'), row.line);
      expectWithin(high, row.number('highLimit'), row.number('tolerance'), row.line);
      expect(signal, row.line).toBe(row.number('signal') === 1 ? 'high' : 'none');
    }
  });
});

describe('The CUSUM chart', () => {
  const charts: readonly (readonly [string, CusumChart])[] = [
    // Montgomery, Introduction to Statistical Quality Control, table 9.1.
    ['montgomery-cusum', { centre: 10, slack: 0.5, limit: 5 }],
    // Montgomery and Runger, Applied Statistics and Probability, example 16-6.
    ['montgomery-runger', { centre: 99, slack: 1, limit: 10 }],
  ];
  it.each(charts)('follows the example %s sample by sample', (name, chart) => {
    let state = startCusum();
    for (const row of chartRows(name)) {
      state = nextCusum(chart, state, row.number('value'));
      expectWithin(state.high, row.number('high'), row.number('tolerance'), row.line);
      expectWithin(state.low, row.number('low'), row.number('tolerance'), row.line);
      expect(judgeCusum(chart, state).kind, row.line).toBe(row.number('signal') === 1 ? 'high' : 'none');
      // Montgomery: N+ is 7 at sample 29, so that the shift began after sample 22.
      if (name === 'montgomery-cusum' && row.number('i') === 29) expect(state.runHigh).toBe(7);
    }
  });
});

describe('The run length of the charts', () => {
  // R spc 0.6.7; the printed tables of Lucas and Crosier 1982 and Lucas and Saccucci 1990 stand beside it, rounded.
  it('agrees with R spc within 0.1 % on every chart and shift', () => {
    for (const row of checkRows('statistics/run-lengths.csv')) {
      const [first, second, shiftSigma] = [row.number('first'), row.number('second'), row.number('shiftSigma')];
      const length =
        row.text('chart') === 'cusum'
          ? cusumRunLength({ slackSigma: first, limitSigma: second, shiftSigma })
          : ewmaRunLength({ lambda: first, width: second, shiftSigma });
      expectWithin(answered(length), row.number('spc'), 0.001 * row.number('spc'), row.line);
    }
  });
});

describe('The Hampel filter', () => {
  const rows = (filter: string) => checkRows('statistics/hampel.csv').filter((row) => row.text('filter') === filter);

  it('finds points 6 and 12 looking back, as R pracma 2.4.2 does', () => {
    const values = rows('centred').map((row) => row.number('value'));
    const points = answered(hampelCentred({ values, reach: 3, threshold: 3 }));
    for (const [i, row] of rows('centred').entries()) {
      expect(points[i]?.filtered, row.line).toBe(row.number('filtered'));
      expect(points[i]?.outlier, row.line).toBe(row.number('outlier') === 1);
    }
  });

  it('finds the same two on the live stream (computed)', () => {
    const filter = { window: 7, fewest: 5, spanMs: 600_000, threshold: 3, scaleFloor: 0.05 };
    let state = startHampel();
    for (const row of rows('trailing')) {
      const value = row.number('value');
      state = nextHampel(filter, state, { atMs: row.number('i') * 10_000, value });
      const outlier = state.verdict === 'outlier';
      expect(outlier ? state.median : value, row.line).toBe(row.number('filtered'));
      expect(outlier, row.line).toBe(row.number('outlier') === 1);
    }
  });
});

describe('The middle and the spread', () => {
  it('are 2 and 1.4826 for 1, 1, 2, 2, 4, 6, 9 (R stats::mad)', () => {
    const { median, mad } = answered(medianAbsoluteDeviation([1, 1, 2, 2, 4, 6, 9]));
    expect(median).toBe(2);
    expect(MAD_TO_SIGMA * mad).toBe(1.4826);
  });

  // The default of most statistics programs, from memory: 1 to 5, a quarter is 2, 90 % is 4.6.
  it('take a share between two values on a straight line', () => {
    expect(answered(quantile({ values: [5, 1, 4, 2, 3], share: 0.25 }))).toBe(2);
    expectWithin(answered(quantile({ values: [5, 1, 4, 2, 3], share: 0.9 })), 4.6, 1e-12, '90 %');
  });
});

// Tables of the normal distribution, from memory.
describe('The normal distribution', () => {
  it.each([
    [0, 0.5],
    [1, 0.158655253931],
    [1.959963984540054, 0.025],
    [3, 0.00134989803163],
    [5, 2.866515718791e-7],
    [8, 6.22096057427e-16],
  ])('has above %d the share %d', (z, share) => {
    expectWithin(normalAbove(z), share, 1e-11 * share + 1e-300, `${z}`);
    expectWithin(normalAbove(-z), 1 - share, 1e-12, `${-z}`);
  });

  it.each([
    [0.975, 1.959963984540054],
    [0.995, 2.5758293035489],
    [0.5, 0],
  ])('has the share %d below %d', (share, z) => {
    expectWithin(normalQuantile(share), z, 1e-12, `${share}`);
  });
});
