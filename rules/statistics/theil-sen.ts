import { type Answer, impossible, type Refusal, refusalFor, refuse } from '../answer.js';
import { ok } from '../result.js';
import { type MannKendall, mannKendall, type Point } from './mann-kendall.js';
import { normalQuantile } from './normal.js';
import { atRank, middle, rising } from './quantile.js';
import { LARGEST } from './sample.js';

/** Fewer points give a slope but no interval: the interval rests on the normal approximation. */
export const FEWEST_FOR_INTERVAL = 10;

/** The work grows with the square of the points; more than this are thinned evenly. */
export const MOST_POINTS = 500;

export type SlopeInterval = { readonly low: number; readonly high: number };

/** A straight trend that no single bad sample can move. */
export type TheilSen = {
  readonly slope: number;
  /** median(y) - slope * median(x). */
  readonly intercept: number;
  /** Absent for fewer than 10 points. */
  readonly interval?: SlopeInterval;
  readonly trend: MannKendall;
  /** Points that took part, after thinning. */
  readonly points: number;
};

/**
 * Theil-Sen slope with its confidence interval and the Mann-Kendall test.
 * Slope in y per x. Confidence 0.5 to 0.9999, default 0.95. Answers for at least 3 points within 1e15, not all at one x.
 * Source: Sen 1968; interval after Gilbert 1987; USEPA 2009 Unified Guidance, chapter 17.
 * Check: USEPA example 17-6, slope 26.6667, 95 % interval 20.00000 to 35.71182.
 */
export const theilSen = ({
  points,
  confidence = 0.95,
  mostPoints = MOST_POINTS,
}: {
  readonly points: readonly Point[];
  readonly confidence?: number;
  readonly mostPoints?: number;
}): Answer<TheilSen> => {
  const refusal = refusalForPoints(points) ?? refusalFor({ confidence, mostPoints }, RANGES);
  if (refusal !== undefined) return refuse(refusal);
  const used = thin(
    points.toSorted((a, b) => a.x - b.x),
    mostPoints,
  );
  const slopes = pairSlopes(used);
  const slope = middle(slopes);
  if (slope === undefined) return impossible('all-at-one-time');
  // Two points almost at one x can be steeper than a number can hold; sorted, such a slope stands at an end.
  if (!Number.isFinite(slopes[0]) || !Number.isFinite(slopes.at(-1))) return impossible('slope-too-steep');
  const trend = mannKendall(used);
  const interval = used.length < FEWEST_FOR_INTERVAL ? undefined : slopeInterval({ slopes, trend, confidence });
  const intercept = middleOf(used, 'y') - slope * middleOf(used, 'x');
  if (!Number.isFinite(intercept)) return impossible('slope-too-steep');
  return ok({ slope, intercept, trend, points: used.length, ...(interval === undefined ? {} : { interval }) });
};

/**
 * The slopes at ranks (N - C)/2 and (N + C)/2 + 1, C = z sqrt(Var S), straight line between ranks.
 * Undefined when the ranks fall outside the slopes: too few pairs to say.
 * Source: Gilbert 1987. Check: the example of Sen 1968 at 93 %: 3.730995 to 4.284619.
 */
export const slopeInterval = ({
  slopes,
  trend,
  confidence,
}: {
  readonly slopes: ArrayLike<number>;
  readonly trend: MannKendall;
  readonly confidence: number;
}): SlopeInterval | undefined => {
  const reach = normalQuantile((1 + confidence) / 2) * Math.sqrt(Math.max(0, trend.varianceS));
  const low = atRank(slopes, (slopes.length - reach) / 2);
  const high = atRank(slopes, (slopes.length + reach) / 2 + 1);
  return low === undefined || high === undefined ? undefined : { low, high };
};

/**
 * The slopes of all pairs at different x, in rising order. Points in order of x.
 * Source: Sen 1968. Check: (0, 0), (1, 3), (2, 4) give 1, 2, 3.
 */
export const pairSlopes = (points: readonly Point[]): Float64Array => {
  const slopes = new Float64Array((points.length * (points.length - 1)) / 2);
  let count = 0;
  for (const [i, here] of points.entries()) {
    for (let j = i + 1; j < points.length; j++) {
      const later = points[j];
      if (later !== undefined && later.x > here.x) slopes[count++] = (later.y - here.y) / (later.x - here.x);
    }
  }
  return slopes.subarray(0, count).sort();
};

const RANGES = { confidence: [0.5, 0.9999], mostPoints: [3, 5000] } as const;

const refusalForPoints = (points: readonly Point[]): Refusal | undefined => {
  if (points.length < 3) return impossible('too-few-readings', { have: points.length, need: 3 }).fault;
  for (const { x, y } of points) {
    const refusal = refusalFor({ x, y }, { x: [-LARGEST, LARGEST], y: [-LARGEST, LARGEST] });
    if (refusal !== undefined) return refusal;
  }
  return undefined;
};

/** Evenly spaced by position, first and last always kept. */
const thin = (points: readonly Point[], most: number): readonly Point[] => {
  if (points.length <= most) return points;
  const kept = Math.floor(most);
  return Array.from({ length: kept }, (_, i) => points[Math.round((i * (points.length - 1)) / (kept - 1))]).filter(
    (point) => point !== undefined,
  );
};

const middleOf = (points: readonly Point[], of: 'x' | 'y'): number => middle(rising(points.map((p) => p[of]))) ?? 0;
