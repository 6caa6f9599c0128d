import { type Answer, refusalFor, refuse } from '../answer.js';
import { ok } from '../result.js';
import { isValue, LARGEST } from './sample.js';

/** A cumulative sum chart: adds up what is beyond the slack on either side, and says when the shift began. */
export type CusumChart = {
  /** The level held to be usual. */
  readonly centre: number;
  /** Slack K in the unit of the samples: half the shift to be found; 0.5 sigma by common practice. */
  readonly slack: number;
  /** Limit H in the unit of the samples: 4 or 5 sigma by common practice. */
  readonly limit: number;
};

/** Plain and unchanging: it can be kept and replayed. */
export type CusumState = {
  readonly high: number;
  readonly low: number;
  /** Samples in a row that the sum has been above 0. */
  readonly runHigh: number;
  readonly runLow: number;
};

export type CusumVerdict =
  | { readonly kind: 'none' }
  /** The shift began `samples` samples ago, counting the present one. */
  | { readonly kind: 'high' | 'low'; readonly sum: number; readonly samples: number };

/**
 * The chart, or why it cannot be one.
 * Answers for a centre within 1e15, a slack of 0 to 1e15 and a limit of 1e-12 to 5e14. Source: arithmetic.
 * Check: a slack of -1 is refused.
 */
export const cusumChart = (chart: CusumChart): Answer<CusumChart> => {
  const refusal = refusalFor({ ...chart }, RANGES);
  return refusal === undefined ? ok(chart) : refuse(refusal);
};

/** The state before the first sample. Source: arithmetic. Check: both sums are 0. */
export const startCusum = (): CusumState => ({ high: 0, low: 0, runHigh: 0, runLow: 0 });

/**
 * Tabular CUSUM: C+ = max(0, x - (centre + slack) + C+), C- = max(0, (centre - slack) - x + C-).
 * A sum is held at LARGEST, far beyond any limit. What is not a number is not a sample: the state stays as it was.
 * Source: Page's form as given by Montgomery, Introduction to Statistical Quality Control, chapter 9.
 * Check: Montgomery's table 9.1, centre 10, slack 0.5: C+ 5.28 at sample 29, above 0 for 7 samples.
 */
export const nextCusum = (chart: CusumChart, state: CusumState, value: number): CusumState => {
  if (!isValue(value)) return state;
  const high = sumOf(state.high + value - (chart.centre + chart.slack));
  const low = sumOf(state.low + (chart.centre - chart.slack) - value);
  return { high, low, runHigh: high > 0 ? state.runHigh + 1 : 0, runLow: low > 0 ? state.runLow + 1 : 0 };
};

/**
 * Signals when a sum is above the limit; when both are, the larger speaks.
 * Source: as above. Check: C+ 5.28 for 7 samples, limit 5: high, since 7 samples.
 */
export const judgeCusum = (chart: CusumChart, state: CusumState): CusumVerdict => {
  const { high, low, runHigh, runLow } = state;
  if (high > chart.limit && high >= low) return { kind: 'high', sum: high, samples: runHigh };
  if (low > chart.limit) return { kind: 'low', sum: low, samples: runLow };
  return { kind: 'none' };
};

const sumOf = (sum: number): number => Math.min(LARGEST, Math.max(0, sum));

const RANGES = { centre: [-LARGEST, LARGEST], slack: [0, LARGEST], limit: [1e-12, LARGEST / 2] } as const;
