import type { Condition } from './condition.js';
import { isLive } from './trend.js';

/** Water where none should be: mains and salt water kill, so the power comes first. */
export const WET_FLOOR: Condition = {
  code: 'wet-floor',
  scope: 'channel',
  standsAt: ({ place, quantity, position }) =>
    quantity === 'contact' && (position === 'wet-floor' || (place.kind === 'room' && position === undefined)),
  timing: () => ({ onDelayMs: 5_000, offDelayMs: 30_000 }),
  judge: ({ channel, nowMs }, before) => {
    if (!isLive(channel, nowMs)) return { raw: before.on ? undefined : false };
    if (channel.value === 0) return { raw: false };
    return {
      raw: true,
      finding: {
        priority: 'high',
        evidence: ['contact-says-so'],
        checks: ['heater-off-at-wall', 'leak-or-standpipe', 'look-at-tank'],
      },
    };
  },
};
