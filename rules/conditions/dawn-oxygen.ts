import { dayStartMs } from '../words/clock.js';
import { shortOfOxygen } from './checks.js';
import type { Condition, Memory } from './condition.js';
import { isWorkingHour, localHour } from './hour.js';

const HOUR_MS = 3_600_000;

/** The night's lowest is known by then, and lies after midnight. */
const DAWN_OVER_H = 10;
const NIGHTS_KEPT = 7;
/** Three nights each lower by so much, or a next one that would pass the limit. Common practice, no source. */
const NIGHTS = 3;
const STEP_PCT = 2;

type Dawn = readonly [dayMs: number, lowPct: number];

const dawnsIn = (memory: Memory | undefined): readonly Dawn[] => {
  const kept = memory?.dawns;
  if (!Array.isArray(kept)) return [];
  return kept.flatMap((dawn): readonly Dawn[] => {
    const [dayMs, low] = Array.isArray(dawn) ? dawn : [];
    return typeof dayMs === 'number' && typeof low === 'number' ? [[dayMs, low]] : [];
  });
};

type Falling = { readonly steps: readonly number[]; readonly last: number };

const fallingDawns = (dawns: readonly Dawn[]): Falling | undefined => {
  const lows = dawns.slice(-NIGHTS).map(([, low]) => low);
  const last = lows.at(-1);
  if (last === undefined || lows.length < NIGHTS) return undefined;
  const steps = lows.slice(1).map((low, index) => low - (lows[index] ?? low));
  return steps.every((step) => step <= -STEP_PCT) ? { steps, last } : undefined;
};

/**
 * The lowest oxygen of each night, falling night by night: the water breathes more than it gets, long before a limit is
 * passed. Looked at once a day, when the night is over; never at night.
 */
export const DAWN_OXYGEN: Condition = {
  code: 'dawn-oxygen-falling',
  scope: 'channel',
  everyMs: 10 * 60_000,
  standsAt: ({ place, quantity, position }) =>
    quantity === 'oxygen-saturation' && position === undefined && place.kind === 'tank' && place.stage !== 'empty',
  timing: () => ({ onDelayMs: 0, offDelayMs: 0 }),
  judge: ({ channel, place, view, nowMs, wants }, before) => {
    const { zone } = view.site;
    if (channel === undefined || !isWorkingHour(nowMs, zone) || localHour(nowMs, zone) < DAWN_OVER_H)
      return { raw: before.on ? undefined : false };
    const dayMs = dayStartMs(nowMs, zone);
    const known = dawnsIn(before.memory).filter(([day]) => day >= dayMs - NIGHTS_KEPT * 25 * HOUR_MS);
    const lows = channel.hours.filter(([startMs]) => startMs >= dayMs).map(([, low]) => low);
    const dawns =
      known.at(-1)?.[0] === dayMs || lows.length < 4 ? known : [...known, [dayMs, Math.min(...lows)] as const];
    const memory: Memory = dawns === known && before.memory !== undefined ? before.memory : { dawns };
    const falling = fallingDawns(dawns);
    if (falling === undefined) return { raw: false, memory };
    const { limitLow } = wants ?? {};
    const next = falling.last + Math.max(...falling.steps);
    return {
      raw: true,
      memory,
      finding: {
        priority: limitLow !== undefined && next < limitLow ? 'medium' : 'low',
        value: falling.last,
        ...(limitLow === undefined ? {} : { line: { kind: 'limit', side: 'low', value: limitLow } as const }),
        checks: shortOfOxygen(place),
      },
    };
  },
};
