import { isUnderWay, type RunPlan } from '../work.js';
import type { Opinion, Sight } from './condition.js';
import type { Harm } from './finding.js';
import { hoursTowards, readingsBasis } from './harm.js';
import { grainOf, isLive, trendOf } from './trend.js';
import { channelAt } from './view.js';

const MINUTE_MS = 60_000;
const HOUR_MS = 3_600_000;
const SPAN_MS = 5 * MINUTE_MS;

/** How far a bare thermometer of the trade is behind moving water, and how well that is known. No source. */
const PROBE_LAG_S = 30;
const LAG_FACTOR = 2;
/** So much past the planned peak the hand at the tap has slept; so near the ceiling there is nothing to wait for. */
const PAST_PEAK_C = 0.3;
const NEAR_CEILING_C = 0.3;
const AHEAD_H = 0.25;

/** The run declared here and under way, with its plan; a run without one is judged as any other water. */
export const runUnderWay = ({ work, nowMs }: Sight): RunPlan | undefined =>
  work.find((declared) => declared.kind === 'spawning-run' && isUnderWay(declared, nowMs))?.run;

/** The temperature that the tray goes towards while the tap is open; undefined where nobody and nothing says it. */
const hotSupplyC = ({ view, nowMs }: Sight, run: RunPlan): number | undefined => {
  const channel = channelAt(view.spotOf(run.hotSupplyId), 'temperature');
  return channel !== undefined && isLive(channel.now, nowMs) ? channel.now.value : run.hotSupplyC;
};

type Course = { readonly perHour: number; readonly minutes: number };

const harmOf = (
  sight: Sight,
  waterC: number,
  { perHour, minutes }: Course,
  ceilingC: number,
  hotC: number | undefined,
): Harm | undefined => {
  const straight = Math.max(0, (ceilingC - waterC) / perHour);
  const towards = hotC === undefined ? straight : hoursTowards(waterC, hotC, ceilingC, perHour);
  const likely = waterC >= ceilingC ? 0 : towards;
  if (likely === undefined) return undefined;
  return {
    atMs: Math.round(sight.nowMs + likely * HOUR_MS),
    earliestMs: Math.round(sight.nowMs + Math.min(straight, likely) * HOUR_MS),
    latestMs: Math.round(sight.nowMs + likely * LAG_FACTOR * HOUR_MS),
    basis: [readingsBasis(minutes), ...(hotC === undefined ? [] : ['hot-supply']), 'lag-taken-out'],
  };
};

/**
 * Whether a run is about to pass the ceiling. Water ahead of its probe: T + lag dT/dt. It nears the hot supply, so that
 * a supply below the ceiling cannot take it there; and it is meant to climb to its peak, so that only a climb past the
 * peak, or right below the ceiling, calls. The ceiling itself sounds as always.
 */
export const spawningOutlook = (sight: Sight, run: RunPlan): Opinion => {
  const { channel, wants, nowMs } = sight;
  const ceilingC = wants?.ceilingHigh ?? wants?.limitHigh;
  if (channel?.value === undefined || ceilingC === undefined) return { raw: false };
  const trend = trendOf(channel, nowMs, SPAN_MS, grainOf('temperature'));
  if (trend === undefined || trend.low <= 0) return { raw: false };
  const lagH = (run.probeLagS ?? PROBE_LAG_S) / 3600;
  const waterC = channel.value + lagH * trend.perHour;
  const hotC = hotSupplyC(sight, run);
  if (hotC !== undefined && hotC <= ceilingC) return { raw: false };
  const isPast = waterC > run.peakC + PAST_PEAK_C || waterC >= ceilingC - NEAR_CEILING_C;
  const harm = harmOf(sight, waterC, trend, ceilingC, hotC);
  if (!isPast || harm === undefined || harm.atMs - nowMs > AHEAD_H * HOUR_MS) return { raw: false };
  return {
    raw: true,
    finding: {
      priority: 'high',
      value: channel.value,
      perHour: trend.perHour,
      line: { kind: wants?.ceilingHigh === undefined ? 'limit' : 'ceiling', side: 'high', value: ceilingC },
      harm,
      checks: ['shut-hot-supply', 'heater-off-at-wall', 'hand-thermometer'],
    },
  };
};
