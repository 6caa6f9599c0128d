import { type Answer, refusalFor, refuse } from '../answer.js';
import { ok } from '../result.js';
import { MAD_TO_SIGMA, spreadOf } from './quantile.js';
import { isSample, isValue, LARGEST, type Sample } from './sample.js';

/** Settings of the trailing filter, for a live stream. */
export type HampelFilter = {
  /** Samples looked at, the present one included; 7 by common practice. */
  readonly window: number;
  /** Fewer than this and nothing is judged; 5 by common practice. */
  readonly fewest: number;
  /** Samples older than the present one by more than this are not looked at. */
  readonly spanMs: number;
  /** Scaled deviations beyond which a sample is an outlier; 3 by common practice. */
  readonly threshold: number;
  /** The scale is never taken as less than this: the resolution of the sensor. Without it equal readings make every move an outlier. */
  readonly scaleFloor: number;
};

/** Plain and unchanging: it can be kept and replayed. */
export type HampelState = {
  readonly samples: readonly Sample[];
  /** Outliers in a row on one side: above 0 on the high side, below 0 on the low side. */
  readonly run: number;
  /** Median of the samples looked at, the present one included. Absent until there are enough. */
  readonly median?: number;
  readonly verdict: HampelVerdict;
};

/** Three outliers in a row on one side are a change of the water, not noise (common practice, no source). */
export type HampelVerdict = 'none' | 'too-few' | 'usual' | 'outlier' | 'change';

export const OUTLIERS_THAT_MAKE_A_CHANGE = 3;

/**
 * The filter, or why it cannot be one. Answers for a window and a fewest of 3 to 1000, a span of 1 ms to 1e15 ms, a
 * threshold of 0.1 to 100 and a floor of 0 to 1e15.
 * Source: arithmetic. Check: a window of 2 is refused.
 */
export const hampelFilter = (filter: HampelFilter): Answer<HampelFilter> => {
  const refusal = refusalFor({ ...filter }, RANGES);
  return refusal === undefined ? ok(filter) : refuse(refusal);
};

/** The state before the first sample. Source: arithmetic. Check: 0 samples, a run of 0. */
export const startHampel = (): HampelState => ({ samples: [], run: 0, verdict: 'none' });

/**
 * Judges one more sample against the median of the last few. The raw value stays as it is and feeds the next window;
 * alarms on levels use raw values, since a trailing window lags.
 * Samples come in order of time; one that is not later than the last, or not a number, changes nothing.
 * Source: the centred filter below, trailing (common practice, no source).
 * Check: 20 five times, then 27.9, window 7, floor 0.05: an outlier from the median 20.
 */
export const nextHampel = (filter: HampelFilter, state: HampelState, sample: Sample): HampelState => {
  const last = state.samples.at(-1);
  if (!isSample(sample) || (last !== undefined && sample.atMs <= last.atMs)) return state;
  const samples = [...state.samples, sample]
    .filter((kept) => sample.atMs - kept.atMs <= filter.spanMs)
    .slice(-Math.floor(filter.window));
  if (samples.length < filter.fewest) return { samples, run: 0, verdict: 'too-few' };
  const { median, mad } = spreadOf(samples.map((kept) => kept.value));
  const scale = Math.max(filter.scaleFloor, MAD_TO_SIGMA * mad);
  const side = Math.abs(sample.value - median) > filter.threshold * scale ? Math.sign(sample.value - median) : 0;
  if (side === 0) return { samples, run: 0, median, verdict: 'usual' };
  const run = Math.sign(state.run) === side ? state.run + side : side;
  return { samples, run, median, verdict: Math.abs(run) >= OUTLIERS_THAT_MAKE_A_CHANGE ? 'change' : 'outlier' };
};

export type HampelPoint = { readonly value: number; readonly filtered: number; readonly outlier: boolean };

/**
 * The centred filter, for looking back: each value against the median of itself and `reach` values on either side; the
 * first and last `reach` values are left as they are. The filter reads raw values only.
 * Answers for values within 1e15, reach 1 to 1000, threshold 0.1 to 100. Source: as R pracma 2.4.2 hampel.
 * Check: the 20 points of tests/fixtures/statistics/hampel.csv, reach 3, threshold 3: outliers 6 and 12.
 */
export const hampelCentred = ({
  values,
  reach,
  threshold,
  scaleFloor = 0,
}: {
  readonly values: readonly number[];
  readonly reach: number;
  readonly threshold: number;
  readonly scaleFloor?: number;
}): Answer<readonly HampelPoint[]> => {
  const refusal = refusalFor({ reach, threshold, scaleFloor }, RANGES);
  if (refusal !== undefined) return refuse(refusal);
  const odd = values.find((value) => !isValue(value));
  if (odd !== undefined) return refuse(refusalFor({ value: odd }, RANGES) ?? { code: 'not-finite', what: 'value' });
  return ok(
    values.map((value, i) => {
      const around = values.slice(Math.max(0, i - reach), i + reach + 1);
      if (i < reach || i >= values.length - reach) return { value, filtered: value, outlier: false };
      const { median, mad } = spreadOf(around);
      const outlier = Math.abs(value - median) > threshold * Math.max(scaleFloor, MAD_TO_SIGMA * mad);
      return { value, filtered: outlier ? median : value, outlier };
    }),
  );
};

const RANGES = {
  window: [3, 1000],
  fewest: [3, 1000],
  spanMs: [1, LARGEST],
  threshold: [0.1, 100],
  scaleFloor: [0, LARGEST],
  reach: [1, 1000],
  value: [-LARGEST, LARGEST],
} as const;
