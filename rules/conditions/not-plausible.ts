import type { Condition, Opinion } from './condition.js';
import { unseenPriority } from './silent.js';
import { unseenMs } from './tolerance.js';

const IS_NOT: Opinion = { raw: false };

/**
 * The probe says what cannot be water: the blinded channel is itself the finding. For the morning, until the tank has
 * been blind long enough for its animals to be harmed.
 */
export const NOT_PLAUSIBLE: Condition = {
  code: 'not-plausible',
  scope: 'channel',
  standsAt: ({ computed }) => computed !== true,
  timing: () => ({ onDelayMs: 60_000, offDelayMs: 60_000 }),
  judge: (sight) => {
    const { channel, place, quantity, nowMs } = sight;
    if (channel === undefined) return { raw: undefined };
    const { badMs } = channel;
    if (badMs === undefined) return IS_NOT;
    const worseMs = badMs + unseenMs(place, quantity);
    return {
      raw: true,
      ...(Number.isFinite(worseMs) && worseMs > nowMs ? { againAtMs: worseMs } : {}),
      finding: {
        priority: unseenPriority(sight, badMs),
        checks: ['probe-cable', 'hand-reading'],
      },
    };
  },
};
