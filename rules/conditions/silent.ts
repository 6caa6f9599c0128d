import { staleAfterMs } from '../quality/late.js';
import type { Condition, Sight } from './condition.js';
import type { Priority } from './finding.js';
import { unseenMs } from './tolerance.js';

/** Until a board's rhythm is known. */
const UNKNOWN_PERIOD_MS = 10_000;
/** A tank unseen this long is worth a look; shorter is drawn as silent and nothing more. Common practice, no source. */
const SILENT_ALARM_MS = 5 * 60_000;

/** For the morning, until the tank has been unseen long enough for its animals to be harmed; never without lines. */
export const unseenPriority = (
  { place, nowMs, quantity }: Pick<Sight, 'place' | 'nowMs' | 'quantity'>,
  seenMs: number,
): Priority => (place.kind === 'tank' && nowMs - seenMs >= unseenMs(place, quantity) ? 'medium' : 'low');

/** No fresh reading for ten periods, at least 60 s, by the gateway's clock: silent is never drawn as fine. */
export const SILENT: Condition = {
  code: 'silent',
  scope: 'channel',
  standsAt: () => true,
  timing: () => ({ onDelayMs: SILENT_ALARM_MS, offDelayMs: 0 }),
  judge: (sight, before) => {
    const { channel, nowMs, place, quantity, computed } = sight;
    if (channel === undefined) return { raw: undefined };
    const silentFromMs = channel.heardMs + staleAfterMs(channel.periodMs ?? UNKNOWN_PERIOD_MS);
    if (nowMs < silentFromMs) return { raw: false, againAtMs: silentFromMs };
    const worseMs = channel.heardMs + unseenMs(place, quantity);
    return {
      raw: true,
      ...(before.raw ? {} : { memory: { heardMs: channel.heardMs } }),
      ...(computed !== true && Number.isFinite(worseMs) && worseMs > nowMs ? { againAtMs: worseMs } : {}),
      finding: {
        // What is computed is silent with its probes, and those say how bad it is.
        priority: computed === true ? 'low' : unseenPriority(sight, channel.heardMs),
        ...(channel.value === undefined ? {} : { value: channel.value }),
        checks: ['board-power', 'board-network', 'hand-reading'],
      },
    };
  },
};
