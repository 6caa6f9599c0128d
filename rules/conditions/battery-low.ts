import type { Condition } from './condition.js';
import { crossed } from './crossed.js';
import { isLive } from './trend.js';

/** A single lithium cell is nearly empty there; other batteries need a limit of their own. Common practice, no source. */
const NEARLY_EMPTY_V = 3.4;
const DEADBAND_V = 0.1;

/** The battery of a board will not last: for the morning. */
export const BATTERY_LOW: Condition = {
  code: 'battery-low',
  scope: 'channel',
  everyMs: 5 * 60_000,
  standsAt: ({ quantity }) => quantity === 'battery',
  timing: () => ({ onDelayMs: 10 * 60_000, offDelayMs: 10 * 60_000 }),
  judge: ({ channel, wants, nowMs, view, subject }, before) => {
    if (!isLive(channel, nowMs)) return { raw: before.on ? undefined : false };
    const line = wants?.limitLow ?? NEARLY_EMPTY_V;
    if (!crossed(before.raw, channel.value, { side: 'low', line, deadband: DEADBAND_V })) return { raw: false };
    const boardId = view.boardOf(subject);
    return {
      raw: true,
      finding: {
        priority: 'low',
        value: channel.value,
        line: { kind: 'limit', side: 'low', value: line },
        ...(boardId === undefined ? {} : { boardId }),
        checks: ['change-battery'],
      },
    };
  },
};
