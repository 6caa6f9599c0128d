import { at, type Draft } from './draft.js';
import { alarmEvent, judgeOne } from './judging.js';
import { showChannels } from './shown.js';
import { NEVER_MS } from './state.js';

const earliestDue = (draft: Draft): number =>
  draft.judgements.reduce((least, { dueMs }) => Math.min(least, dueMs ?? NEVER_MS), NEVER_MS);

const fire = (draft: Draft, index: number, dueMs: number): void => {
  const { alarm, lagMs } = at(draft.judgements, index);
  if (alarm?.shelvedUntilMs !== undefined && alarm.shelvedUntilMs <= dueMs) {
    alarmEvent(draft, index, 'shelve-expired', dueMs);
  }
  judgeOne(draft, index, dueMs - lagMs, dueMs);
};

/**
 * Fires every deadline due by `untilMs`, in order, each at its own time, so that how often anybody looks at the clock
 * changes nothing.
 */
export const fireDeadlines = (draft: Draft, untilMs: number): void => {
  while (draft.nextDueMs <= untilMs) {
    // `nextDueMs` is a lower bound: a deadline that moved away leaves it too early, never too late.
    const due = earliestDue(draft);
    draft.nextDueMs = due;
    if (due > untilMs) return;
    draft.state = { ...draft.state, nowMs: Math.max(draft.state.nowMs, due) };
    const indexes = draft.judgements.flatMap(({ dueMs }, index) => (dueMs === due ? [index] : []));
    for (const index of indexes) fire(draft, index, due);
    showChannels(draft, indexes, due);
    draft.nextDueMs = earliestDue(draft);
  }
};
