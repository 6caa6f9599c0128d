import { staleAfterMs } from '../quality/late.js';
import type { Condition } from './condition.js';

/** Until a board's rhythm is known. */
const UNKNOWN_PERIOD_MS = 10_000;
/** A tank unseen this long is worth a look; shorter is drawn as silent and nothing more. Common practice, no source. */
const SILENT_ALARM_MS = 5 * 60_000;

/** No fresh reading for ten periods, at least 60 s, by the gateway's clock: silent is never drawn as fine. */
export const SILENT: Condition = {
  code: 'silent',
  scope: 'channel',
  standsAt: () => true,
  timing: () => ({ onDelayMs: SILENT_ALARM_MS, offDelayMs: 0 }),
  judge: ({ channel, nowMs, wants }, before) => {
    if (channel === undefined) return { raw: undefined };
    const silentFromMs = channel.heardMs + staleAfterMs(channel.periodMs ?? UNKNOWN_PERIOD_MS);
    if (nowMs < silentFromMs) return { raw: false, againAtMs: silentFromMs };
    return {
      raw: true,
      ...(before.raw ? {} : { memory: { heardMs: channel.heardMs } }),
      finding: {
        priority: wants === undefined ? 'low' : 'medium',
        ...(channel.value === undefined ? {} : { value: channel.value }),
        checks: ['board-power', 'board-network', 'hand-reading'],
      },
    };
  },
};
