import { courseOf } from '../stage/wants.js';
import type { EvidenceCode } from '../words/evidence.js';
import { aroundOf } from './around.js';
import { tooWarm } from './checks.js';
import type { Condition, Opinion, Sight } from './condition.js';
import { contactAt } from './contact.js';
import type { Harm, Line } from './finding.js';
import { heldLevel } from './habit.js';
import { harmOnSlope } from './harm.js';
import { sisterFacts } from './sisters.js';
import { fullHeatCPerHour } from './tolerance.js';
import { asOf, grainOf, hasMoved, isLive, type Trend, trendOf } from './trend.js';

const MINUTE_MS = 60_000;

/** A climb this long is looked at: the time in which the whole heater would warm the water by so much. */
const CLIMB_C = 0.8;
const SHORTEST_MS = 4 * MINUTE_MS;
const LONGEST_MS = 40 * MINUTE_MS;
/** Beyond the swing of a thermostat and what the tank usually holds. Common practice, no source. */
const BEYOND_HELD_C = 1;
/** With its current seen, less is needed. */
const BEYOND_HELD_SEEN_C = 0.6;

/**
 * The share of the whole heater's slope that a climb must show: losses to room and inflow take some, more so in a tank
 * that water runs through. A faster climb is warm water, not a heater. Common practice, no source.
 */
const SHARE = { 'flow-through': [0.3, 1.3], still: [0.55, 1.3] } as const;
/** Nearer to where the climb would end of itself a curve tells no time. */
const MOST_OF_THE_WAY = 0.95;
/** A half of the climb is told less well than the whole. */
const HALF = [0.5, 1.5] as const;
/** The climb has ended when this little of it is left. */
const SHARE_LEFT = 0.25;

export const temperatureLine = ({ wants }: Pick<Sight, 'wants'>): Line | undefined => {
  const { ceilingHigh, limitHigh } = wants ?? {};
  if (ceilingHigh !== undefined) return { kind: 'ceiling', side: 'high', value: ceilingHigh };
  return limitHigh === undefined ? undefined : { kind: 'limit', side: 'high', value: limitHigh };
};

const spanFor = (fullCPerHour: number): number =>
  Math.min(LONGEST_MS, Math.max(SHORTEST_MS, (CLIMB_C / fullCPerHour) * 60 * MINUTE_MS));

/** Above what the tank held, or, for a tank without a past, above its target. */
const isBeyondHabit = ({ channel, place, wants, nowMs }: Sight, value: number, byC: number): boolean => {
  const held = channel === undefined ? undefined : heldLevel(channel, nowMs);
  const { targetHigh } = wants ?? {};
  // Where a plan says how warm it should be by now, the plan is the habit.
  if (held === undefined || courseOf(place, 'temperature') !== undefined)
    return targetHigh !== undefined && value > targetHigh;
  return value > held + byC;
};

/** Both halves climb as the whole heater does: no plateau, and no warm water let in. */
const isFullHeat = (
  { place, nowMs }: Sight,
  trend: Trend,
  channel: NonNullable<Sight['channel']>,
  full: number,
): boolean => {
  const [least, most] = SHARE[place.regime === 'flow-through' ? 'flow-through' : 'still'];
  if (trend.perHour < least * full || trend.perHour > most * full || trend.low <= 0) return false;
  const halfMs = spanFor(full) / 2;
  const halves = [
    trendOf(channel, nowMs, halfMs, grainOf('temperature')),
    trendOf(asOf(channel, nowMs - halfMs), nowMs - halfMs, halfMs, grainOf('temperature')),
  ];
  return halves.every(
    (half) => half === undefined || (half.perHour >= HALF[0] * least * full && half.perHour <= HALF[1] * most * full),
  );
};

/**
 * Straight on at the soonest. Where the surroundings are known, what the whole heater makes less what is seen is the
 * loss, which grows with the distance from them: dT/dt = full - k (T - around), and the climb bends. Never sooner than
 * straight, and never without a time: a heater stuck on is not called off by a forecast.
 */
const harmOf = (sight: Sight, value: number, trend: Trend, line: Line): Harm | undefined => {
  const straight = harmOnSlope({ value, line, trend, nowMs: sight.nowMs }, ['heater-power-agrees']);
  const [around, full] = [aroundOf(sight)?.value, fullHeatCPerHour(sight.place)];
  if (straight === undefined || around === undefined || full === undefined) return straight;
  const perH = (full - trend.perHour) / (value - around);
  const share = ((line.value - value) * perH) / trend.perHour;
  if (!(perH > 0 && share > 0 && share < MOST_OF_THE_WAY)) return straight;
  const atMs = Math.round(sight.nowMs + (-Math.log1p(-share) / perH) * 3_600_000);
  const latestMs = Math.max(atMs, straight.latestMs ?? 0) + (atMs - straight.atMs);
  return { ...straight, atMs, latestMs, basis: [...straight.basis, 'room-agrees'] };
};

const opinion = (sight: Sight, value: number, trend: Trend, seen: boolean | undefined): Opinion => {
  const line = temperatureLine(sight);
  const harm = line === undefined ? undefined : harmOf(sight, value, trend, line);
  const current: readonly EvidenceCode[] = seen === true ? ['heater-current-on'] : [];
  const span = Math.min(trend.minutes, 40) * MINUTE_MS;
  return {
    raw: true,
    finding: {
      priority: 'high',
      value,
      perHour: trend.perHour,
      ...(line === undefined ? {} : { line }),
      ...(harm === undefined ? {} : { harm }),
      evidence: ['heater-power-agrees', ...current, ...sisterFacts(sight, 'temperature', trend.change, span)],
      checks: tooWarm(sight.place),
    },
  };
};

/**
 * A steady climb as steep as the whole heater in this much water makes it, out of what the tank usually holds, without a
 * plateau: the thermostat no longer opens. Wakes at the climb, not at the limit. °C/h = kW 3600 / (V ρ cp).
 */
export const HEATER_STUCK_ON: Condition = {
  code: 'heater-stuck-on',
  scope: 'channel',
  everyMs: 30_000,
  standsAt: ({ place, quantity, position, computed }) =>
    quantity === 'temperature' && position === undefined && computed !== true && fullHeatCPerHour(place) !== undefined,
  timing: () => ({ onDelayMs: 30_000, offDelayMs: 120_000 }),
  judge: (sight, before) => {
    const { channel, place, placeNow, nowMs, view } = sight;
    const full = fullHeatCPerHour(place);
    if (full === undefined || placeNow.wet === 'dry' || !isLive(channel, nowMs))
      return { raw: before.on ? undefined : false };
    const span = spanFor(full);
    if (!before.raw && !hasMoved(channel, nowMs, span, CLIMB_C / 3)) return { raw: false };
    const trend = trendOf(channel, nowMs, span, grainOf('temperature'));
    if (trend === undefined) return { raw: before.on ? undefined : false };
    const seen = contactAt(view.spotOf(place.id), 'heater-current', nowMs);
    // A heater that draws no current warms nothing, whatever the slope is.
    if (seen === false) return { raw: false };
    if (before.raw) {
      // Its newest half says whether it still climbs.
      const late = trendOf(channel, nowMs, span / 2, grainOf('temperature')) ?? trend;
      return late.perHour > SHARE_LEFT * full ? opinion(sight, channel.value, trend, seen) : { raw: false };
    }
    const beyondC = seen === true ? BEYOND_HELD_SEEN_C : BEYOND_HELD_C;
    if (!isBeyondHabit(sight, trend.last, beyondC) || !isFullHeat(sight, trend, channel, full)) return { raw: false };
    return opinion(sight, channel.value, trend, seen);
  },
};
