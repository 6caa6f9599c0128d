import { alarmEvent } from './alarm-event.js';
import { at, type Draft, duesOf, planOf } from './draft.js';
import { firstDue, takeDue } from './due.js';
import { keepHouse } from './house.js';
import { houseDueMs } from './house-due.js';
import { looksAtReadings } from './judgement-plan.js';
import { judgeOne } from './judging.js';
import { showChannels } from './shown.js';
import { NEVER_MS } from './state.js';

/** The earliest deadline of a judgement. Entries that their judgement no longer stands by are let go. */
const earliestDue = (draft: Draft): number => {
  const list = duesOf(draft);
  for (;;) {
    const first = firstDue(list);
    if (first === undefined) return NEVER_MS;
    const [atMs, index] = first;
    if (draft.judgements[index]?.dueMs === atMs) return atMs;
    takeDue(list);
  }
};

/** All that are due at one moment, in the order of the plan. */
const dueAt = (draft: Draft, dueMs: number): readonly number[] => {
  const list = duesOf(draft);
  const indexes: number[] = [];
  for (;;) {
    const first = firstDue(list);
    if (first === undefined || first[0] !== dueMs) return indexes;
    takeDue(list);
    const [, index] = first;
    if (draft.judgements[index]?.dueMs === dueMs && indexes.at(-1) !== index) indexes.push(index);
  }
};

const fire = (draft: Draft, index: number, dueMs: number): void => {
  const { alarm, lagMs } = at(draft.judgements, index);
  if (alarm?.shelvedUntilMs !== undefined && alarm.shelvedUntilMs <= dueMs) {
    alarmEvent(draft, index, 'shelve-expired', dueMs);
  }
  judgeOne(draft, index, dueMs - lagMs, dueMs);
};

const fireMoment = (draft: Draft, dueMs: number): void => {
  draft.state = { ...draft.state, nowMs: Math.max(draft.state.nowMs, dueMs) };
  keepHouse(draft, dueMs);
  const indexes = dueAt(draft, dueMs);
  for (const index of indexes) fire(draft, index, dueMs);
  // What looks at its own rhythm moves no channel.
  const shown = indexes.filter((index) => looksAtReadings(at(planOf(draft).judgements, index)));
  showChannels(draft, shown, dueMs);
};

/**
 * Fires every deadline due by `untilMs`, in order, each at its own time, so that how often anybody looks at the clock
 * changes nothing.
 */
export const fireDeadlines = (draft: Draft, untilMs: number): void => {
  while (draft.nextDueMs <= untilMs) {
    // `nextDueMs` is a lower bound: a deadline that moved away leaves it too early, never too late.
    const due = Math.min(earliestDue(draft), houseDueMs(draft));
    draft.nextDueMs = due;
    if (due > untilMs) return;
    fireMoment(draft, due);
    draft.nextDueMs = Math.min(earliestDue(draft), houseDueMs(draft));
  }
};
