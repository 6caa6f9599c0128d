import type { AlarmPicture } from '../../rules/alarm/alarm.js';
import type { FaultCall } from '../../rules/alerts/faults.js';
import type { Notice } from '../../rules/alerts/notice.js';

/** Trouble that is no alarm of the engine, and what it says of itself at a call. */
export type Trouble = {
  readonly id: string;
  readonly placeId: string;
  readonly says: (call: FaultCall) => Notice;
};

/** For the ladders, which know only alarms. */
export const pretendAlarm = (id: string, placeId: string, atMs: number): AlarmPicture => ({
  id,
  subject: placeId,
  finding: { condition: 'everything-silent', placeId, priority: 'high', sinceMs: atMs },
  priority: 'high',
  state: 'unack',
  activatedMs: atMs,
  changedMs: atMs,
});
