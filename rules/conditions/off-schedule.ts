import { courseOf } from '../stage/wants.js';
import { checksFor } from './checks.js';
import type { Condition } from './condition.js';
import { isLive } from './trend.js';

const MINUTE_MS = 60_000;
/** So many widths away from the plan it is no longer a matter for the round. Common practice, no source. */
const FAR = 3;

/** A tank is not where its dated plan, or the intake that it follows, wants it. Limits and ceilings have their own rules. */
export const OFF_SCHEDULE: Condition = {
  code: 'off-schedule',
  scope: 'channel',
  everyMs: 5 * MINUTE_MS,
  standsAt: ({ place, quantity, position }) =>
    quantity !== undefined && position === undefined && courseOf(place, quantity) !== undefined,
  timing: () => ({ onDelayMs: 30 * MINUTE_MS, offDelayMs: 10 * MINUTE_MS }),
  judge: ({ channel, place, placeNow, quantity, wants, nowMs }, before) => {
    const { targetLow, targetHigh } = wants ?? {};
    if (targetLow === undefined || targetHigh === undefined || placeNow.wet === 'dry' || !isLive(channel, nowMs))
      return { raw: before.on ? undefined : false };
    const side = channel.value > (targetLow + targetHigh) / 2 ? 'high' : 'low';
    const line = side === 'high' ? targetHigh : targetLow;
    const beyond = side === 'high' ? channel.value - line : line - channel.value;
    const within = (targetHigh - targetLow) / 2;
    if (beyond <= (before.raw ? -0.2 * within : 0)) return { raw: false };
    return {
      raw: true,
      finding: {
        priority: beyond > FAR * within ? 'medium' : 'low',
        value: channel.value,
        line: { kind: 'target', side, value: line },
        checks: ['schedule-still-wanted', ...checksFor(side, quantity, place)],
      },
    };
  },
};
