import { type Answer, impossible, type Refusal, refusalFor, refuse } from '../answer.js';
import { ok } from '../result.js';
import { type Interval, refusalForInterval } from '../statistics/interval.js';
import { middle, rising } from '../statistics/quantile.js';
import { inOrder } from '../statistics/sample.js';
import { FEWEST_FOR_INTERVAL, theilSen } from '../statistics/theil-sen.js';
import { BALANCE_RANGES } from './oxygen-budget.js';

const MS_PER_HOUR = 3_600_000;

/** Below this share of saturation the animals may already breathe less (common practice, no source). */
export const LOWEST_SHARE_OF_SATURATION = 0.5;
/** The decline must be this many times what the probe can tell apart (common practice, no source). */
export const DECLINE_IN_RESOLUTIONS = 5;
/** Measured against expected: beyond this factor either way, ask about count, weight and sensor. */
export const DISAGREEMENT_FACTOR = 3;

/** What air and flow brought while the decline was measured; all 0 and `exactly(0)` when sealed. */
export type Supply = {
  readonly solubilityMgL: number;
  readonly reaerationPerH: Interval;
  readonly exchangePerH: number;
  readonly inflowOxygenMgL: number;
};

/**
 * Uptake from a slope: r = -dC/dt + kLa (Cs - C) + D (Cin - C), mg/L/h, at the middle oxygen of the window.
 * The ends take the worst of slope and reaeration together. An end below 0 is given as 0, since nothing breathes out
 * oxygen; no answer when the middle is not above 0: light on algae, or a reaeration set too high.
 * Answers for slopes of -10,000 to 10,000 mg/L/h and the ranges of oxygen-budget.ts. Source: mass balance.
 * Check: -0.30 mg/L/h at 6.0, 7.4 at saturation, reaeration 0.05: 0.370.
 */
export const uptakeFromSlope = ({
  slopeMgLPerH,
  oxygenMgL,
  ...supply
}: Supply & { readonly slopeMgLPerH: Interval; readonly oxygenMgL: number }): Answer<Interval> => {
  const refusal =
    refusalForInterval('slopeMgLPerH', slopeMgLPerH, [-10_000, 10_000]) ??
    refusalFor({ oxygenMgL }, BALANCE_RANGES) ??
    refusalForSupply(supply);
  if (refusal !== undefined) return refuse(refusal);
  const fromFlow = supply.exchangePerH * (supply.inflowOxygenMgL - oxygenMgL);
  const deficit = supply.solubilityMgL - oxygenMgL;
  const fromAir = [supply.reaerationPerH.low * deficit, supply.reaerationPerH.high * deficit];
  const mid = supply.reaerationPerH.mid * deficit + fromFlow - slopeMgLPerH.mid;
  if (mid <= 0) return impossible('no-uptake-seen');
  return ok({
    low: Math.max(0, Math.min(...fromAir) + fromFlow - slopeMgLPerH.high),
    mid,
    high: Math.max(...fromAir) + fromFlow - slopeMgLPerH.low,
  });
};

const refusalForSupply = ({ reaerationPerH, ...supply }: Supply): Refusal | undefined =>
  refusalFor(supply, BALANCE_RANGES) ??
  refusalForInterval('reaerationPerH', reaerationPerH, BALANCE_RANGES.reaerationPerH);

export type OxygenReading = { readonly atMs: number; readonly oxygenMgL: number };

/**
 * Uptake, mg/L/h, from readings taken while air and flow were off and the water was stirred, with its 95 % interval.
 * Answers for at least 10 readings, all above half of saturation, falling by at least 5 times the resolution of the
 * probe, which is 0.0001 to 1 mg/L. Sources: the slope as in theil-sen.ts, then mass balance.
 * Check: 11 readings in an hour, 6.15 falling to 5.85 mg/L, 7.4 at saturation, reaeration 0.05: 0.370.
 */
export const uptakeFromReadings = ({
  readings,
  resolutionMgL,
  ...supply
}: Supply & { readonly readings: readonly OxygenReading[]; readonly resolutionMgL: number }): Answer<Interval> => {
  const samples = inOrder(readings.map(({ atMs, oxygenMgL }) => ({ atMs, value: oxygenMgL })));
  const refusal = refusalFor({ resolutionMgL }, { resolutionMgL: [0.0001, 1] }) ?? refusalForSupply(supply);
  if (refusal !== undefined) return refuse(refusal);
  if (samples.length < FEWEST_FOR_INTERVAL)
    return impossible('too-few-readings', { have: samples.length, need: FEWEST_FOR_INTERVAL });
  const sorted = rising(samples.map(({ value }) => value));
  const halfMgL = LOWEST_SHARE_OF_SATURATION * supply.solubilityMgL;
  const lowestMgL = sorted[0] ?? 0;
  if (lowestMgL < halfMgL) return impossible('oxygen-below-half-saturation', { lowestMgL, halfMgL });
  const startMs = samples[0]?.atMs ?? 0;
  const trend = theilSen({
    points: samples.map(({ atMs, value }) => ({ x: (atMs - startMs) / MS_PER_HOUR, y: value })),
  });
  if (!trend.ok) return trend;
  const { slope, interval } = trend.value;
  const declineMgL = (-slope * ((samples.at(-1)?.atMs ?? startMs) - startMs)) / MS_PER_HOUR;
  const neededMgL = DECLINE_IN_RESOLUTIONS * resolutionMgL;
  if (declineMgL < neededMgL) return impossible('decline-within-resolution', { declineMgL, neededMgL });
  if (interval === undefined)
    return impossible('too-few-readings', { have: samples.length, need: FEWEST_FOR_INTERVAL });
  const slopeMgLPerH = { low: Math.min(interval.low, slope), mid: slope, high: Math.max(interval.high, slope) };
  return uptakeFromSlope({ ...supply, slopeMgLPerH, oxygenMgL: middle(sorted) ?? 0 });
};

/** Uptake with what it rests on. */
export type KnownUptake = {
  readonly basis: 'measured' | 'published';
  readonly mgLPerH: Interval;
  /** Measured and published differ by more than a factor of 3: count, weight or sensor? */
  readonly disagree: boolean;
};

/**
 * A measured uptake, mg/L/h, overrides a published one. Answers for 0 to 10,000 mg/L/h; none when there is neither.
 * Source: decision of this project. Check: 0.5 measured beside 0.1 published: 0.5, and they disagree.
 */
export const chooseUptake = ({
  measured,
  published,
}: {
  readonly measured?: Interval;
  readonly published?: Interval;
}): Answer<KnownUptake> => {
  const mgLPerH = measured ?? published;
  if (mgLPerH === undefined) return impossible('uptake-unknown');
  const refusal =
    refusalForInterval('uptakeMgLPerH', mgLPerH, BALANCE_RANGES.uptakeMgLPerH) ??
    (published && refusalForInterval('uptakeMgLPerH', published, BALANCE_RANGES.uptakeMgLPerH));
  if (refusal !== undefined) return refuse(refusal);
  const disagree =
    measured !== undefined &&
    published !== undefined &&
    (measured.mid > DISAGREEMENT_FACTOR * published.mid || measured.mid < published.mid / DISAGREEMENT_FACTOR);
  return ok({ basis: measured === undefined ? 'published' : 'measured', mgLPerH, disagree });
};
