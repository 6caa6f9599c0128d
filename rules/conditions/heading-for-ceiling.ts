import type { EvidenceCode } from '../words/evidence.js';
import { tooCold, tooWarm } from './checks.js';
import type { Condition, Opinion, Sight } from './condition.js';
import type { Harm, Line } from './finding.js';
import { heldLevel, usualReach } from './habit.js';
import { byTimeLeft, harmOnSlope, hoursUntil } from './harm.js';
import { temperatureLine } from './heater-stuck-on.js';
import { sisterFacts } from './sisters.js';
import { runUnderWay, spawningOutlook } from './spawning-outlook.js';
import { grainOf, hasMoved, isGoingOn, isLive, type Trend, trendOf } from './trend.js';

const MINUTE_MS = 60_000;
const SPAN_MS = 20 * MINUTE_MS;
const SHORT_SPAN_MS = 6 * MINUTE_MS;
/** Less than this in the span is weather, not a runaway. */
const MOVED_C = 0.5;
/** A runaway is looked for this far ahead; nearer than `HIGH_H` there is no time to sleep on it. No source. */
const AHEAD_H = 1;
const HIGH_H = 0.5;
const BEYOND_HELD_C = 1;

const lineAhead = ({ wants }: Sight, trend: Trend): Line | undefined => {
  if (trend.perHour > 0) return temperatureLine({ wants });
  const { ceilingLow } = wants ?? {};
  return ceilingLow === undefined ? undefined : { kind: 'ceiling', side: 'low', value: ceilingLow };
};

const isBeyond = ({ side, value: line }: Line, value: number): boolean =>
  side === 'high' ? value > line : value < line;

/** Past where a thermostat's swing turns back, °C. */
const BEYOND_REACH_C = 0.2;

/** As far out as it went in the hours before: a thermostat that works, near its line. */
const isSwing = (channel: NonNullable<Sight['channel']>, nowMs: number, value: number, side: Line['side']): boolean => {
  const reach = usualReach(channel, nowMs);
  if (reach === undefined) return false;
  return side === 'high' ? value <= reach.high + BEYOND_REACH_C : value >= reach.low - BEYOND_REACH_C;
};

/** Away from what the tank holds, on the side where the line lies: warming up again after a cold fill is not. */
const isUnusual = ({ channel, wants, nowMs }: Sight, value: number, { side }: Line): boolean => {
  if (channel !== undefined && isSwing(channel, nowMs, value, side)) return false;
  const held = channel === undefined ? undefined : heldLevel(channel, nowMs);
  const target = side === 'high' ? wants?.targetHigh : wants?.targetLow;
  if (target !== undefined && isBeyond({ kind: 'target', side, value: target }, value)) return true;
  return held !== undefined && (side === 'high' ? value > held + BEYOND_HELD_C : value < held - BEYOND_HELD_C);
};

/** The last minutes may be steeper than the last twenty: the sooner of the two forecasts holds. */
const steepest = (channel: NonNullable<Sight['channel']>, nowMs: number): Trend | undefined => {
  const long = trendOf(channel, nowMs, SPAN_MS, grainOf('temperature'));
  const short = trendOf(channel, nowMs, SHORT_SPAN_MS, grainOf('temperature'));
  const isSteep =
    short !== undefined &&
    short.low * short.high > 0 &&
    Math.abs(short.change) >= MOVED_C &&
    isGoingOn(channel, nowMs, SHORT_SPAN_MS, short);
  if (!isSteep) return long;
  if (long === undefined || Math.abs(short.perHour) > Math.abs(long.perHour) || short.perHour * long.perHour < 0)
    return short;
  return long;
};

const told = (sight: Sight, value: number, trend: Trend, line: Line, harm: Harm): Opinion => {
  const power: readonly EvidenceCode[] =
    line.side === 'high' && sight.place.heaterW === undefined ? ['no-heater-power-known'] : [];
  return {
    raw: true,
    finding: {
      priority: byTimeLeft(hoursUntil(harm, sight.nowMs), HIGH_H, AHEAD_H),
      value,
      line,
      harm,
      perHour: trend.perHour,
      evidence: [...power, ...sisterFacts(sight, 'temperature', trend.change, trend.minutes * MINUTE_MS)],
      checks: line.side === 'high' ? tooWarm(sight.place) : tooCold(sight.place),
    },
  };
};

const ordinary = (sight: Sight, value: number, trend: Trend, wasRaw: boolean): Opinion => {
  const line = lineAhead(sight, trend);
  if (line === undefined || isBeyond(line, value) || trend.low * trend.high <= 0) return { raw: false };
  const harm = harmOnSlope({ value, line, trend, nowMs: sight.nowMs });
  const left = hoursUntil(harm, sight.nowMs);
  // Once told it stays told until the line is well out of reach, so that a wavering slope does not ring twice.
  if (harm === undefined || left > (wasRaw ? 2 : 1) * AHEAD_H) return { raw: false };
  const { channel, nowMs } = sight;
  const goesOn = channel !== undefined && isGoingOn(channel, nowMs, trend.minutes * MINUTE_MS + MINUTE_MS, trend);
  return wasRaw || (goesOn && Math.abs(trend.change) >= MOVED_C && isUnusual(sight, trend.last, line))
    ? told(sight, value, trend, line, harm)
    : { raw: false };
};

/**
 * The ceiling will be passed within the hour if the water goes on as it does. During a spawning run the outlook is
 * towards the hot supply and the planned peak instead, with the lag of the probe taken out.
 */
export const HEADING_FOR_CEILING: Condition = {
  code: 'heading-for-ceiling',
  scope: 'channel',
  everyMs: 30_000,
  standsAt: ({ quantity, position, wants }) =>
    quantity === 'temperature' &&
    position === undefined &&
    [wants?.ceilingHigh, wants?.ceilingLow, wants?.limitHigh].some((line) => line !== undefined),
  timing: () => ({ onDelayMs: 60_000, offDelayMs: 180_000 }),
  judge: (sight, before) => {
    const { channel, placeNow, nowMs } = sight;
    if (placeNow.wet === 'dry' || !isLive(channel, nowMs)) return { raw: before.on ? undefined : false };
    if (!before.raw && !hasMoved(channel, nowMs, SPAN_MS, MOVED_C)) return { raw: false };
    const run = runUnderWay(sight);
    if (run !== undefined) return spawningOutlook(sight, run);
    const trend = steepest(channel, nowMs);
    return trend === undefined
      ? { raw: before.on ? undefined : false }
      : ordinary(sight, channel.value, trend, before.raw);
  },
};
