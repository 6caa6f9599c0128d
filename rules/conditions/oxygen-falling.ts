import { hoursOfOxygenLeft, hoursOfOxygenLeftFromSlope } from '../seawater/oxygen-left.js';
import { uptakeFromSlope } from '../seawater/oxygen-uptake.js';
import { STILL_SURFACE_PER_H } from '../seawater/reaeration.js';
import type { Interval } from '../statistics/interval.js';
import type { EvidenceCode } from '../words/evidence.js';
import { shortOfOxygen } from './checks.js';
import type { Condition, Opinion, Sight } from './condition.js';
import { contactAt } from './contact.js';
import type { Harm, Line } from './finding.js';
import { trembling } from './habit.js';
import { byTimeLeft, harmFromHours, hoursUntil, readingsBasis } from './harm.js';
import { declineOf, isLikeYesterday, isOnlyWarming } from './oxygen-decline.js';
import { sisterFacts, sistersMoved } from './sisters.js';
import { wantsStillWater } from './tolerance.js';
import { isLive, type Trend } from './trend.js';

const MINUTE_MS = 60_000;
const SPAN_MS = 25 * MINUTE_MS;
/** Reading of an oxygen probe of the trade, mg/L either way. Common practice, no source. */
const PROBE_MG_L = 0.1;
/** Farther off than this is for the round, not for a call; the ends of high and medium. Common practice, no source. */
const AHEAD_H = 4;
const HIGH_H = 0.5;
const MEDIUM_H = 2;
/** Flow may have been left off for so long after a feeding. */
const AFTER_FEEDING_MS = 3 * 60 * MINUTE_MS;
/** A trace that trembles less than this share of before has lost its bubbles: supporting, never a cause by itself. */
const STILL_SHARE = 0.4;

const lineOf = ({ wants }: Sight): Line | undefined => {
  const { limitLow, ceilingLow } = wants ?? {};
  if (limitLow !== undefined) return { kind: 'limit', side: 'low', value: limitLow };
  return ceilingLow === undefined ? undefined : { kind: 'ceiling', side: 'low', value: ceilingLow };
};

const isAirOff = ({ place, view, nowMs }: Sight): boolean =>
  contactAt(view.spotOf(place.airMainId), 'air-pressure', nowMs) === false;

type Falling = { readonly value: number; readonly trend: Trend; readonly line: Line };

const slopeOf = ({ low, perHour, high }: Trend): Interval => ({ low, mid: perHour, high: Math.min(high, -1e-6) });

/**
 * Without air the still surface brings some oxygen, the more the lower it gets: the uptake is what the slope shows and
 * the surface hides, and the budget goes on from there. The straight slope where the budget has no answer.
 */
const harmOf = (sight: Sight, { value, trend, line }: Falling): Harm | undefined => {
  const oxygenMgL = { low: value - PROBE_MG_L, mid: value, high: value + PROBE_MG_L };
  const slopeMgLPerH = slopeOf(trend);
  const basis = readingsBasis(trend.minutes);
  const saturation = sight.beside('oxygen-saturation');
  const solubilityMgL =
    saturation?.value === undefined || saturation.value <= 0 ? undefined : (value / saturation.value) * 100;
  if (solubilityMgL !== undefined && isAirOff(sight)) {
    const reaerationPerH = STILL_SURFACE_PER_H.value;
    const supply = { solubilityMgL, reaerationPerH, exchangePerH: 0, inflowOxygenMgL: value };
    const uptake = uptakeFromSlope({ ...supply, slopeMgLPerH, oxygenMgL: value });
    const left = uptake.ok
      ? hoursOfOxygenLeft({ ...supply, oxygenMgL, uptakeMgLPerH: uptake.value, limitMgL: line.value })
      : uptake;
    if (left.ok) return harmFromHours(left.value, sight.nowMs, [basis, 'oxygen-budget']);
  }
  const left = hoursOfOxygenLeftFromSlope({ oxygenMgL, slopeMgLPerH, limitMgL: line.value });
  return left.ok ? harmFromHours(left.value, sight.nowMs, [basis, 'straight-on']) : undefined;
};

const wentStill = ({ channel, nowMs }: Sight): boolean => {
  if (channel === undefined) return false;
  const now = trembling(channel, nowMs, 15 * MINUTE_MS);
  const before = trembling(
    { ...channel, recent: channel.recent.filter(([atMs]) => atMs < nowMs - SPAN_MS) },
    nowMs,
    60 * MINUTE_MS,
  );
  return now !== undefined && before !== undefined && before > 0 && now < STILL_SHARE * before;
};

const wasFedLately = ({ view, place, nowMs }: Sight): boolean =>
  view.work.some(
    ({ kind, placeId, fromMs, untilMs, endedMs }) =>
      kind === 'feeding-flow-off' &&
      placeId === place.id &&
      fromMs <= nowMs &&
      nowMs - Math.min(untilMs, endedMs ?? untilMs) <= AFTER_FEEDING_MS,
  );

const factsOf = (sight: Sight, trend: Trend): readonly EvidenceCode[] => {
  const { place, nowMs } = sight;
  const onMain = sistersMoved(sight, place.airMainId, 'oxygen-mg-l', SPAN_MS);
  const falling = onMain.filter((moved) => moved <= 0.4 * trend.change).length;
  return [
    ...(isAirOff(sight) ? (['air-main-low'] as const) : []),
    ...(falling > 0 ? (['falling-together'] as const) : []),
    ...(place.airMainId === undefined ? sisterFacts(sight, 'oxygen-mg-l', trend.change, SPAN_MS) : []),
    ...(onMain.length > 0 && falling === 0 ? (['only-this-tank'] as const) : []),
    ...(isLive(sight.beside('flow'), nowMs) && sight.beside('flow')?.value === 0 ? (['flow-off'] as const) : []),
    ...(wasFedLately(sight) ? (['off-after-feeding'] as const) : []),
    ...(wentStill(sight) ? (['trace-went-still'] as const) : []),
  ];
};

const found = (sight: Sight, falling: Falling, harm: Harm | undefined): Opinion => {
  const { value, trend, line } = falling;
  const evidence = factsOf(sight, trend);
  const flowFirst = evidence.includes('off-after-feeding') || evidence.includes('flow-off');
  const checks = shortOfOxygen(sight.place);
  return {
    raw: true,
    finding: {
      priority: byTimeLeft(hoursUntil(harm, sight.nowMs), HIGH_H, MEDIUM_H),
      value,
      line,
      perHour: trend.perHour,
      ...(harm === undefined ? {} : { harm }),
      evidence,
      checks: flowFirst ? ['flow-running', ...checks.filter((code) => code !== 'flow-running')] : checks,
    },
  };
};

/**
 * Oxygen runs out of one tank: more than noise, not the day's own rhythm, not warming, not a surplus leaving. Time of
 * harm from the budget when the air is known to be off, else down the measured slope. Embryos stand still on purpose.
 */
export const OXYGEN_FALLING: Condition = {
  code: 'oxygen-falling',
  scope: 'channel',
  everyMs: 30_000,
  standsAt: ({ place, quantity, position, wants }) =>
    quantity === 'oxygen-mg-l' && position === undefined && place.kind === 'tank' && wants !== undefined,
  timing: () => ({ onDelayMs: 60_000, offDelayMs: 300_000 }),
  judge: (sight, before) => {
    const { channel, place, placeNow, nowMs } = sight;
    const line = lineOf(sight);
    if (line === undefined || wantsStillWater(place, nowMs)) return { raw: false };
    if (placeNow.wet === 'dry' || !isLive(channel, nowMs)) return { raw: before.on ? undefined : false };
    const trend = declineOf(channel, nowMs);
    if (trend === undefined) return { raw: false };
    const saturation = sight.beside('oxygen-saturation');
    if (isLive(saturation, nowMs) && saturation.value > 100) return { raw: false };
    if (isOnlyWarming(saturation, nowMs)) return { raw: false };
    const falling = { value: channel.value, trend, line };
    const harm = harmOf(sight, falling);
    const left = hoursUntil(harm, nowMs);
    if (left > MEDIUM_H && isLikeYesterday(channel, trend, nowMs)) return { raw: false };
    const isBelowTarget = channel.value < (sight.wants?.targetLow ?? Number.NEGATIVE_INFINITY);
    return left <= AHEAD_H || isBelowTarget ? found(sight, falling, harm) : { raw: false };
  },
};
