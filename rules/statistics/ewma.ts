import { type Answer, refusalFor, refuse } from '../answer.js';
import { ok } from '../result.js';
import { isValue, LARGEST } from './sample.js';

/** An exponentially weighted moving average chart: slow to move, good at small lasting shifts such as salinity drift. */
export type EwmaChart = {
  /** Weight of the newest sample, above 0 to 1; 0.05 to 0.1 for slow drift of hourly means (common practice). */
  readonly lambda: number;
  /** The level held to be usual. */
  readonly centre: number;
  /** Standard deviation of the samples about the centre, from a clean period: never from the samples under test. */
  readonly sigma: number;
  /** Half-width of the limits in standard deviations of the average. */
  readonly width: number;
  /** Limits that open with the number of samples, or those of the long run from the start. */
  readonly limits: 'opening' | 'steady';
};

/** Plain and unchanging: it can be kept and replayed. */
export type EwmaState = { readonly count: number; readonly ewma: number };

export type EwmaVerdict = {
  readonly low: number;
  readonly high: number;
  readonly signal: 'none' | 'low' | 'high';
};

/**
 * The chart, or why it cannot be one. Answers for lambda 0.001 to 1, a centre within 1e15, sigma 1e-12 to 1e15, width
 * 0.1 to 20.
 * Source: arithmetic. Check: lambda 0 is refused.
 */
export const ewmaChart = (chart: EwmaChart): Answer<EwmaChart> => {
  const { lambda, centre, sigma, width } = chart;
  const refusal = refusalFor({ lambda, centre, sigma, width }, RANGES);
  return refusal === undefined ? ok(chart) : refuse(refusal);
};

/** The state before the first sample. Source: as nextEwma. Check: a chart about 50 starts at 50. */
export const startEwma = (chart: EwmaChart): EwmaState => ({ count: 0, ewma: chart.centre });

/**
 * z_i = lambda x_i + (1 - lambda) z_(i-1). What is not a number is not a sample: the state stays as it was.
 * Source: NIST/SEMATECH e-Handbook of Statistical Methods 6.3.2.4 (form of Roberts 1959).
 * Check: the handbook's 20 samples with lambda 0.3 from 50 end at 51.99.
 */
export const nextEwma = (chart: EwmaChart, state: EwmaState, value: number): EwmaState =>
  isValue(value) ? { count: state.count + 1, ewma: chart.lambda * value + (1 - chart.lambda) * state.ewma } : state;

/**
 * The limits after the samples seen so far, in their unit, and whether the average is beyond one.
 * Source: NIST/SEMATECH e-Handbook 6.3.2.4.
 * Check: centre 50, lambda 0.3, s 2.0539, width 3, steady: 47.4116 to 52.5884.
 */
export const judgeEwma = (chart: EwmaChart, state: EwmaState): EwmaVerdict => {
  const { lambda, centre, sigma, width } = chart;
  const opened = chart.limits === 'steady' ? 1 : 1 - (1 - lambda) ** (2 * state.count);
  const reach = width * sigma * Math.sqrt((lambda / (2 - lambda)) * opened);
  const [low, high] = [centre - reach, centre + reach];
  // Before the first sample the opening limits have no width, and nothing has been seen that could signal.
  const signal = state.count === 0 ? 'none' : state.ewma > high ? 'high' : state.ewma < low ? 'low' : 'none';
  return { low, high, signal };
};

const RANGES = { lambda: [0.001, 1], centre: [-LARGEST, LARGEST], sigma: [1e-12, LARGEST], width: [0.1, 20] } as const;
