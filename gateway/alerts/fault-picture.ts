import type { AlertFault } from '../../rules/alerts/faults.js';
import type { Person } from '../../rules/alerts/person.js';
import { PRIORITIES, type Priority } from '../../rules/conditions/finding.js';
import type { FaultPicture } from '../../rules/wire/waking.js';

const worst = (priorities: readonly Priority[]): Priority =>
  priorities.reduce((a, b) => (PRIORITIES.indexOf(b) > PRIORITIES.indexOf(a) ? b : a), 'low');

/** A fault as screens show it: people by their names. */
export const faultPicture = (
  { id, placeId, members, ladder, changedMs }: AlertFault,
  people: readonly Person[],
): FaultPicture => {
  const nameOf = (person: string): string => people.find((one) => one.id === person)?.name ?? person;
  const standing = ladder?.standing;
  const sinceMs = standing !== undefined && 'sinceMs' in standing ? standing.sinceMs : (ladder?.startedMs ?? changedMs);
  return {
    id,
    placeId,
    alarmIds: members.map((member) => member.id),
    priority: worst([...members.map(({ priority }) => priority), ...(ladder === undefined ? [] : [ladder.priority])]),
    standing: standing?.kind ?? 'nobody-called',
    ...(standing !== undefined && 'by' in standing && standing.by !== '' ? { by: nameOf(standing.by) } : {}),
    sinceMs,
    ...(standing?.kind === 'going' ? { untilMs: standing.untilMs } : {}),
    ...(ladder?.dueMs === undefined ? {} : { dueMs: ladder.dueMs }),
    told: (ladder?.told ?? []).map(nameOf),
  };
};
