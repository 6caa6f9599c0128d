import type { Condition } from './condition.js';

/** The probe says what cannot be water: the blinded channel is itself the finding. */
export const NOT_PLAUSIBLE: Condition = {
  code: 'not-plausible',
  scope: 'channel',
  standsAt: ({ computed }) => computed !== true,
  timing: () => ({ onDelayMs: 60_000, offDelayMs: 60_000 }),
  judge: ({ channel, wants }) => {
    if (channel === undefined) return { raw: undefined };
    const raw = channel.badMs !== undefined;
    if (!raw) return { raw };
    return {
      raw,
      finding: { priority: wants === undefined ? 'low' : 'medium', checks: ['probe-cable', 'hand-reading'] },
    };
  },
};
