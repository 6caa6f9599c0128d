import { type Answer, impossible, type Refusal, refusalFor, refuse } from '../answer.js';
import { ok } from '../result.js';
import { type MannKendall, mannKendall, type Point, varianceOfS } from './mann-kendall.js';
import { normalQuantile } from './normal.js';
import { atRank, middle, rising } from './quantile.js';
import { isValue, LARGEST } from './sample.js';

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

type Asked = {
  readonly points: readonly Point[];
  readonly confidence?: number;
  readonly mostPoints?: number;
};

/**
 * Theil-Sen slope with its confidence interval and the Mann-Kendall test.
 * Slope in y per x. Confidence 0.5 to 0.9999, default 0.95. Answers for at least 3 points within 1e15, not all at one x.
 * Source: Sen 1968; interval after Gilbert 1987; USEPA 2009 Unified Guidance, chapter 17.
 * Check: USEPA example 17-6, slope 26.6667, 95 % interval 20.00000 to 35.71182.
 */
export const theilSen = (asked: Asked): Answer<TheilSen> => {
  const line = theilSenLine(asked);
  if (!line.ok) return line;
  const { slope, intercept, used, interval } = line.value;
  const trend = mannKendall(used);
  return ok({ slope, intercept, trend, points: used.length, ...(interval === undefined ? {} : { interval }) });
};

/** What `theilSen` says, without the test for a trend: several times cheaper, for what looks every minute. */
export type TheilSenLine = Pick<TheilSen, 'slope' | 'intercept' | 'interval'> & {
  /** The points that took part, in order of x. */
  readonly used: readonly Point[];
};

/**
 * The line alone: slope in y per x. Answers for at least 3 points within 1e15, not all at one x.
 * Source: Sen 1968, as above. Check: (0, 1), (1, 2), (2, 2), (3, 4): slope 1, intercept 0.5.
 */
export const theilSenLine = ({
  points,
  confidence = USUAL_CONFIDENCE,
  mostPoints = MOST_POINTS,
}: Asked): Answer<TheilSenLine> => {
  const refusal = refusalForPoints(points) ?? refusalFor({ confidence, mostPoints }, RANGES);
  if (refusal !== undefined) return refuse(refusal);
  const used = thin(inOrderOfX(points), mostPoints);
  const slopes = pairSlopes(used);
  const slope = middle(slopes);
  if (slope === undefined) return impossible('all-at-one-time');
  // Two points almost at one x can be steeper than a number can hold; sorted, such a slope stands at an end.
  if (!Number.isFinite(slopes[0]) || !Number.isFinite(slopes.at(-1))) return impossible('slope-too-steep');
  const interval = used.length < FEWEST_FOR_INTERVAL ? undefined : intervalOf(slopes, varianceOfS(used), confidence);
  const intercept = middleOf(used, 'y') - slope * middleOf(used, 'x');
  if (!Number.isFinite(intercept)) return impossible('slope-too-steep');
  return ok({ slope, intercept, used, ...(interval === undefined ? {} : { interval }) });
};

const inOrderOfX = (points: readonly Point[]): readonly Point[] => {
  for (let n = 1; n < points.length; n += 1) {
    if ((points[n]?.x ?? 0) < (points[n - 1]?.x ?? 0)) return points.toSorted((a, b) => a.x - b.x);
  }
  return points;
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
}): SlopeInterval | undefined => intervalOf(slopes, trend.varianceS, confidence);

const USUAL_CONFIDENCE = 0.95;
const USUAL_Z = normalQuantile((1 + USUAL_CONFIDENCE) / 2);

const intervalOf = (slopes: ArrayLike<number>, varianceS: number, confidence: number): SlopeInterval | undefined => {
  const z = confidence === USUAL_CONFIDENCE ? USUAL_Z : normalQuantile((1 + confidence) / 2);
  const reach = z * Math.sqrt(Math.max(0, varianceS));
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
  for (let i = 0; i < points.length; i++) {
    const here = points[i];
    for (let j = i + 1; here !== undefined && j < points.length; j++) {
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
    if (isValue(x) && isValue(y)) continue;
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
