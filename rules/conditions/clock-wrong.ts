import type { Condition } from './condition.js';

/** A clock that was wrong for a moment after a start sets itself. */
const LASTING_MS = 10 * 60_000;

/** The stamps of a board cannot be believed: arrival counts instead, and late readings are lost to the past. */
export const CLOCK_WRONG: Condition = {
  code: 'clock-wrong',
  scope: 'board',
  everyMs: 60_000,
  standsAt: () => true,
  timing: () => ({ onDelayMs: LASTING_MS, offDelayMs: LASTING_MS }),
  judge: ({ subject, view }) =>
    view.clockWrongMs(subject) === undefined
      ? { raw: false }
      : { raw: true, finding: { priority: 'low', boardId: subject, checks: ['set-clock'] } },
};
