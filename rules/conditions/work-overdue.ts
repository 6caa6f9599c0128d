import { isLeftOpen } from '../work.js';
import type { Condition } from './condition.js';

/**
 * Declared work over its time: its rules stand again, and it rings until somebody says that it is done, or gives it
 * more time. One alarm a place; the work longest over is told.
 */
export const WORK_OVERDUE: Condition = {
  code: 'work-overdue',
  scope: 'place',
  everyMs: 60_000,
  standsAt: () => true,
  timing: () => ({ onDelayMs: 0, offDelayMs: 0 }),
  judge: ({ work, nowMs }) => {
    const open = work.filter((declared) => isLeftOpen(declared, nowMs)).sort((a, b) => a.untilMs - b.untilMs)[0];
    if (open === undefined) {
      const next = work.reduce((least, { untilMs }) => Math.min(least, untilMs), Number.POSITIVE_INFINITY);
      return Number.isFinite(next) ? { raw: false, againAtMs: next } : { raw: false };
    }
    return { raw: true, finding: { priority: 'medium', work: open.kind, checks: ['work-finished', 'look-at-tank'] } };
  },
};
