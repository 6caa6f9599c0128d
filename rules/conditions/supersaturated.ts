import type { Condition } from './condition.js';
import { spanOfHours } from './habit.js';
import { isLive } from './trend.js';

const HOUR_MS = 3_600_000;

/** Lasting, and at night too: heated cold water and leaking pumps do that, algae in the light do not. No source. */
const LASTING_H = 12;
const HIGH_PCT = 110;
const AT_NIGHT_PCT = 105;
/** With less of a record only what is far beyond algae in a tank is called. */
const FAR_PCT = 130;

/**
 * Gas supersaturation told apart from algae: algae lift the oxygen by day and take it down below saturation at night.
 * Gas that a heater or a pump presses in stays day and night. From memory of the trade, no source.
 */
export const SUPERSATURATED: Condition = {
  code: 'supersaturated',
  scope: 'channel',
  everyMs: 10 * 60_000,
  standsAt: ({ place, quantity, position }) =>
    quantity === 'oxygen-saturation' && position === undefined && place.kind === 'tank' && place.stage !== 'empty',
  timing: () => ({ onDelayMs: HOUR_MS, offDelayMs: HOUR_MS }),
  judge: ({ channel, placeNow, nowMs }, before) => {
    if (placeNow.wet === 'dry' || !isLive(channel, nowMs)) return { raw: before.on ? undefined : false };
    const past = spanOfHours(channel, nowMs, LASTING_H);
    const lasts = past !== undefined && past.count >= LASTING_H - 1 && past.low >= AT_NIGHT_PCT;
    const isHigh = channel.value >= (before.raw ? AT_NIGHT_PCT : HIGH_PCT);
    if (!isHigh || !(lasts || channel.value >= FAR_PCT)) return { raw: false };
    return {
      raw: true,
      finding: {
        priority: channel.value >= FAR_PCT ? 'medium' : 'low',
        value: channel.value,
        checks: ['degas', 'hand-oxygen'],
      },
    };
  },
};
