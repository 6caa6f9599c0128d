import { aroundOf } from './around.js';
import { tooCold, tooWarm } from './checks.js';
import type { Condition, Opinion, Sight } from './condition.js';
import { contactAt } from './contact.js';
import type { Harm, Line, Priority } from './finding.js';
import { heldLevel } from './habit.js';
import { harmOnSlope, hoursTowards, hoursUntil } from './harm.js';
import { sisterFacts } from './sisters.js';
import { isTender } from './tolerance.js';
import { grainOf, hasMoved, isLive, type Trend, trendOf } from './trend.js';

const MINUTE_MS = 60_000;
const HOUR_MS = 3_600_000;
const SPAN_MS = 40 * MINUTE_MS;
const BACK_MS = 8 * MINUTE_MS;
/** Out of what the tank holds by this much, and by this much within the span: a thermostat's swing is less. No source. */
const BEYOND_HELD_C = 0.8;
const MOVED_C = 0.3;
/** Far enough out, or so near a line, that tender stages should not wait for the morning; adults an hour before. */
const FAR_C = 1.5;
const TENDER_H = 2;
const ADULT_H = 1;

type Side = 'low' | 'high';

const lineOf = ({ wants }: Sight, side: Side): Line | undefined => {
  const value = side === 'low' ? wants?.limitLow : wants?.limitHigh;
  return value === undefined ? undefined : { kind: 'limit', side, value };
};

/** Straight on at the soonest; the likely time nears the surroundings where they are known, and may be never. */
const harmOf = (
  sight: Sight,
  value: number,
  trend: Trend,
  line: Line | undefined,
  around: number | undefined,
): Harm | undefined => {
  if (line === undefined) return undefined;
  const straight = harmOnSlope({ value, line, trend, nowMs: sight.nowMs });
  if (straight === undefined || around === undefined) return straight;
  const hours = hoursTowards(value, around, line.value, trend.perHour);
  if (hours === undefined) return undefined;
  const atMs = Math.round(sight.nowMs + hours * HOUR_MS);
  const { latestMs: _, ...rest } = straight;
  return { ...rest, atMs: Math.max(atMs, straight.atMs), basis: [...straight.basis, 'room-agrees'] };
};

const priorityOf = ({ place, nowMs }: Sight, away: number, harm: Harm | undefined): Priority => {
  const hours = hoursUntil(harm, nowMs);
  if (isTender(place)) return away >= FAR_C || hours <= TENDER_H ? 'medium' : 'low';
  return hours <= ADULT_H ? 'medium' : 'low';
};

/** What was dipped or mixed in is on its way back within the quarter of an hour. */
const isComingBack = (channel: NonNullable<Sight['channel']>, nowMs: number, sign: number): boolean => {
  const lately = trendOf(channel, nowMs, BACK_MS, grainOf('temperature'));
  return lately !== undefined && sign * lately.perHour < 0;
};

const judgeDrift = (sight: Sight, wasOn: boolean, wasRaw: boolean, side: Side): Opinion => {
  const { channel, placeNow, nowMs, wants, place } = sight;
  if (placeNow.wet === 'dry' || !isLive(channel, nowMs)) return { raw: wasOn ? undefined : false };
  const sign = side === 'low' ? -1 : 1;
  const held = heldLevel(channel, nowMs) ?? (side === 'low' ? wants?.targetLow : wants?.targetHigh);
  if (held === undefined || sign * (channel.value - held) < (wasRaw ? 0.5 : 1) * BEYOND_HELD_C) return { raw: false };
  if (!wasRaw && !hasMoved(channel, nowMs, SPAN_MS, MOVED_C)) return { raw: false };
  const trend = trendOf(channel, nowMs, SPAN_MS, grainOf('temperature'));
  if (trend === undefined) return { raw: wasOn ? undefined : false };
  // Along the slope, so that one reading far off is not the tank.
  const away = sign * (trend.last - held);
  if (away < (wasRaw ? 0.5 : 1) * BEYOND_HELD_C) return { raw: false };
  const drifts = sign > 0 ? trend.low > 0 : trend.high < 0;
  // Told once, it holds until the water comes back: a tank that has reached the room does not drift any more.
  if (!wasOn && isComingBack(channel, nowMs, sign)) return { raw: false };
  if (!wasRaw && (!drifts || Math.abs(trend.change) < MOVED_C)) return { raw: false };
  const around = aroundOf(sight);
  const agrees = around !== undefined && sign * (around.value - channel.value) > 0;
  // Surroundings on the other side cannot be what the water drifts to.
  if (!wasRaw && around !== undefined && !agrees) return { raw: false };
  const line = lineOf(sight, side);
  const harm = harmOf(sight, channel.value, trend, line, around?.value);
  const current = side === 'low' ? contactAt(sight.view.spotOf(place.id), 'heater-current', nowMs) : undefined;
  return {
    raw: true,
    finding: {
      priority: priorityOf(sight, away, harm),
      value: channel.value,
      perHour: trend.perHour,
      ...(line === undefined ? {} : { line }),
      ...(harm === undefined ? {} : { harm }),
      evidence: [
        ...(current === undefined ? [] : [current ? ('heater-current-on' as const) : ('heater-current-off' as const)]),
        ...(agrees ? [around.fact] : []),
        ...sisterFacts(sight, 'temperature', trend.change, SPAN_MS),
      ],
      checks:
        side === 'low'
          ? tooCold(place)
          : ['chiller-running', ...tooWarm(place).filter((code) => code !== 'chiller-running')],
    },
  };
};

const drift = (code: 'heat-lost' | 'cooling-lost', side: Side): Condition => ({
  code,
  scope: 'channel',
  everyMs: 60_000,
  standsAt: ({ place, quantity, position, computed }) =>
    quantity === 'temperature' &&
    position === undefined &&
    computed !== true &&
    (side === 'low' ? (place.heaterW ?? 0) > 0 : place.chilled === true),
  // A cool vessel set into a bath, or cold water let in, is over by then.
  timing: () => ({ onDelayMs: 10 * MINUTE_MS, offDelayMs: 5 * MINUTE_MS }),
  judge: (sight, before) => judgeDrift(sight, before.on, before.raw, side),
});

/** A heated tank drifts towards its surroundings: heater without power, on and not heating, or running dry. */
export const HEAT_LOST: Condition = drift('heat-lost', 'low');

/** A chilled tank drifts towards its surroundings: the chiller or its pump is off. */
export const COOLING_LOST: Condition = drift('cooling-lost', 'high');
