import { alarmEvent } from './alarm-event.js';
import { at, type Draft, duesOf, noteDue, planOf } from './draft.js';
import { dueBy, firstDueMs } from './due.js';
import { keepHouse } from './house.js';
import { houseDueMs } from './house-due.js';
import { looksAtReadings } from './judgement-plan.js';
import { judgeOne } from './judging.js';
import { showChannels } from './shown.js';
import { NEVER_MS } from './state.js';

const earliestDue = (draft: Draft): number => firstDueMs(duesOf(draft)) ?? NEVER_MS;

const fire = (draft: Draft, index: number, dueMs: number): void => {
  const { alarm, lagMs } = at(draft.judgements, index);
  if (alarm?.shelvedUntilMs !== undefined && alarm.shelvedUntilMs <= dueMs) {
    alarmEvent(draft, index, 'shelve-expired', dueMs);
  }
  judgeOne(draft, index, dueMs - lagMs, dueMs);
};

const fireMoment = (draft: Draft, dueMs: number): void => {
  draft.state.nowMs = Math.max(draft.state.nowMs, dueMs);
  keepHouse(draft, dueMs);
  const indexes = dueBy(duesOf(draft), dueMs);
  for (const index of indexes) fire(draft, index, dueMs);
  // A deadline that was answered and stands all the same is not asked again at once.
  for (const index of indexes) if (at(draft.judgements, index).dueMs === dueMs) noteDue(draft, index, undefined);
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
