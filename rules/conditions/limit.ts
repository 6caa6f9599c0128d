import {
  breakDegreeHours,
  type DegreeHoursState,
  nextDegreeHours,
  startDegreeHours,
  totalDegreeHours,
} from '../statistics/degree-hours.js';
import type { Wants } from '../wire/picture.js';
import { checksFor } from './checks.js';
import type { Before, Condition, Memory, Opinion, Sight } from './condition.js';
import { crossed } from './crossed.js';
import { deadbandOf, limitTiming } from './delays.js';
import type { ConditionCode, Exposure, Line, Priority } from './finding.js';
import { isWorkingHour } from './hour.js';
import { isCellsJump } from './salinity-shape.js';
import { isTender } from './tolerance.js';
import { firstUnbroken } from './trend.js';

type Kind = {
  readonly code: ConditionCode;
  readonly kind: 'limit' | 'ceiling';
  readonly side: 'low' | 'high';
  readonly priority: Priority;
};

const KINDS: readonly Kind[] = [
  { code: 'above-ceiling', kind: 'ceiling', side: 'high', priority: 'high' },
  { code: 'below-ceiling', kind: 'ceiling', side: 'low', priority: 'high' },
  { code: 'above-limit', kind: 'limit', side: 'high', priority: 'medium' },
  { code: 'below-limit', kind: 'limit', side: 'low', priority: 'medium' },
];

const FIELD = {
  limit: { low: 'limitLow', high: 'limitHigh' },
  ceiling: { low: 'ceilingLow', high: 'ceilingHigh' },
} as const;

const valueIn = (wants: Wants | undefined, { kind, side }: Kind): number | undefined => wants?.[FIELD[kind][side]];

const IS_NOT: Opinion = { raw: false };

/** Out of the water, or no value that could be water: it cannot be told. A delay that was running starts again. */
const isBlind = ({ channel, placeNow }: Sight): boolean =>
  channel?.value === undefined || channel.badMs !== undefined || placeNow.wet === 'dry';

const FAST_MS = 15 * 60_000;
const FAST_SALINITY = 1;
/** Slower than this is the trembling of a probe over a quarter of an hour. */
const SLOW_C_PER_H = 0.4;

/** A salinity that crept over a line can wait for the morning; one that got there within minutes cannot. */
const isSlow = ({ channel, nowMs }: Sight): boolean => {
  const first = channel === undefined ? undefined : firstUnbroken(channel, nowMs - FAST_MS);
  return first !== undefined && channel?.value !== undefined && Math.abs(channel.value - first[1]) < FAST_SALINITY;
};

/** A cell that jumped alone: a bubble, not the water. */
const isCell = ({ channel, beside, nowMs }: Sight): boolean =>
  channel !== undefined && isCellsJump(channel, beside('temperature'), nowMs, nowMs - FAST_MS);

const isSalt = ({ quantity }: Sight): boolean =>
  quantity === 'salinity' || quantity === 'conductivity' || quantity === 'specific-conductance';

/** Too much oxygen wakes nobody by itself: algae in the light do it every day (see supersaturated). */
const isSurplus = ({ quantity }: Sight, { side }: Kind): boolean =>
  side === 'high' && (quantity === 'oxygen-mg-l' || quantity === 'oxygen-saturation');

/**
 * A temperature limit is for lasting conditions: larvae stand far more for a short time. A little beyond it, for a short
 * time and going nowhere, is for the wall; so far or so long is not. Adults stand twice that on the cold side. Common
 * practice, no source.
 */
const FAR_C = 0.9;
const LONG_C_H = 3;
const AHEAD_H = 1;

const isMild = (sight: Sight, { value: line, side }: Line, { unitHours }: Exposure): boolean => {
  const { channel, place, nowMs } = sight;
  if (sight.quantity !== 'temperature' || channel?.value === undefined) return false;
  const times = side === 'low' && !isTender(place) ? 2 : 1;
  const sign = side === 'high' ? 1 : -1;
  const first = firstUnbroken(channel, nowMs - FAST_MS);
  const perHour =
    first === undefined || nowMs - first[0] < FAST_MS / 2
      ? 0
      : Math.max(0, (sign * (channel.value - first[1]) * 3_600_000) / (nowMs - first[0]));
  const farC = sign * (channel.value - line) + (perHour < SLOW_C_PER_H ? 0 : perHour * AHEAD_H);
  return farC < times * FAR_C && unitHours < times * LONG_C_H;
};

const priorityOf = (sight: Sight, kind: Kind, line: Line, exposure: Exposure): Priority => {
  if (kind.kind === 'ceiling') return kind.priority;
  if (isMild(sight, line, exposure)) return 'low';
  if (isSurplus(sight, kind)) return 'low';
  if (isSalt(sight) && isCell(sight)) return 'low';
  if (isSalt(sight) && isSlow(sight) && !isWorkingHour(sight.nowMs, sight.view.site.zone)) return 'low';
  return kind.priority;
};

/** Between two readings farther apart than this nobody knows what the animals had. */
const MAX_GAP_MS = 5 * 60_000;

type Sum = { readonly state: DegreeHoursState; readonly exposure: Exposure };

const isSum = (memory: Memory | undefined): memory is Memory & { readonly sum: DegreeHoursState } =>
  typeof memory?.sum === 'object' && memory.sum !== null && 'sums' in memory.sum;

/** Degree-hours beyond the line since it was crossed; for oxygen mg/L hours. */
const summed = ({ atMs, channel }: Sight, { side, value: line }: Line, before: Before): Sum => {
  const what = { line, side: side === 'high' ? 'above' : 'below', maxGapMs: MAX_GAP_MS } as const;
  const so = before.raw && isSum(before.memory) ? before.memory.sum : startDegreeHours();
  const state =
    channel?.value === undefined ? breakDegreeHours(so) : nextDegreeHours(what, so, { atMs, value: channel.value });
  const { degreeHours: unitHours, hoursBeyond: hours } = totalDegreeHours(what, state);
  return { state, exposure: { unitHours, hours } };
};

const limitCondition = (kind: Kind): Condition => ({
  code: kind.code,
  scope: 'channel',
  // A battery has a condition of its own, and a switch has no lines.
  standsAt: ({ wants, quantity, isTwin }) =>
    valueIn(wants, kind) !== undefined && quantity !== 'battery' && quantity !== 'contact' && isTwin !== true,
  timing: ({ place, quantity, periodMs }) =>
    kind.kind === 'ceiling'
      ? { onDelayMs: Math.min(2 * (periodMs ?? 10_000), 60_000), offDelayMs: 60_000, latching: true }
      : limitTiming(place, quantity),
  judge: (sight, before) => {
    const lineValue = valueIn(sight.wants, kind);
    const value = sight.channel?.value;
    if (lineValue === undefined || value === undefined || isBlind(sight)) return { raw: before.on ? undefined : false };
    const isWithin = kind.side === 'high' ? value <= lineValue : value >= lineValue;
    if (isWithin && !before.raw && !before.on) return IS_NOT;
    const line: Line = { kind: kind.kind, side: kind.side, value: lineValue };
    const deadband = deadbandOf(sight.place, sight.quantity);
    const raw = crossed(before.raw, value, { side: kind.side, line: line.value, deadband });
    if (!raw && !before.on) return { raw };
    const { state, exposure } = summed(sight, line, before);
    return {
      raw,
      memory: { sum: state },
      finding: {
        priority: priorityOf(sight, kind, line, exposure),
        value,
        line,
        exposure,
        checks: checksFor(kind.side, sight.quantity, sight.place),
        ...(sight.wants?.confirmed === false ? { unconfirmed: true } : {}),
      },
    };
  },
});

/** Beyond the limit, and beyond the ceiling. The ceiling is never suspended and has no delay beyond two readings. */
export const LIMIT_CONDITIONS: readonly Condition[] = KINDS.map(limitCondition);
