import {
  type Call,
  type CallKind,
  EVERY_WAY,
  GRACE_MS,
  type Ladder,
  type LadderStepped,
  OFFER_MS,
  QUIET_WAY,
  type Roster,
  type Standing,
} from './ladder.js';
import type { Way } from './person.js';
import { type LadderRole, type Policy, pointAt } from './policy.js';

const withDue = ({ dueMs: _, ...rest }: Ladder, dueMs: number | undefined): Ladder =>
  dueMs === undefined ? rest : { ...rest, dueMs };

const nextDueMs = ({ policy, next, baseMs }: Ladder): number | undefined => {
  const point = pointAt(policy, next);
  return point === undefined ? undefined : baseMs + point.afterMs;
};

/** What the ladder waits for: the news that all is well, or what its standing waits for. */
const dueOf = (ladder: Ladder): number | undefined => {
  const standingMs = standingDueOf(ladder);
  const { sayClearedMs } = ladder;
  if (sayClearedMs === undefined) return standingMs;
  return standingMs === undefined ? sayClearedMs : Math.min(sayClearedMs, standingMs);
};

const standingDueOf = (ladder: Ladder): number | undefined => {
  const { standing } = ladder;
  switch (standing.kind) {
    case 'climbing':
      return nextDueMs(ladder) ?? ladder.baseMs + ladder.policy.stopAfterMs;
    case 'going':
      return standing.untilMs + GRACE_MS;
    case 'passing':
      return standing.sinceMs + OFFER_MS;
    case 'there':
      return standing.checkMs;
    case 'acknowledged':
      return standing.untilMs;
    case 'ended':
      return undefined;
  }
};

export const stand = (ladder: Ladder, standing: Standing): Ladder => {
  const standingNow = { ...ladder, standing };
  return withDue(standingNow, dueOf(standingNow));
};

export const startLadder = (
  fresh: Pick<Ladder, 'run' | 'priority' | 'hour'> & { readonly policy: Policy; readonly atMs: number },
  told: readonly string[] = [],
): Ladder => {
  const { atMs, ...kept } = fresh;
  const ladder: Ladder = {
    ...kept,
    startedMs: atMs,
    baseMs: atMs,
    next: 0,
    standing: { kind: 'climbing' },
    told,
    extra: 0,
    last: { label: '', made: 0, failed: 0 },
  };
  return stand(ladder, ladder.standing);
};

const people = (roster: Roster, roles: readonly LadderRole[], atMs: number): readonly string[] => [
  ...new Set(roles.flatMap((role) => roster.inRole(role, atMs))),
];

/** Remembers who was told, and waits for the fate of the messages. */
const called = (ladder: Ladder, call: Call): LadderStepped => ({
  ladder: {
    ...ladder,
    told: [...new Set([...ladder.told, ...call.to])],
    last: { label: call.label, made: 0, failed: 0 },
  },
  calls: [call],
});

/** A call outside the policy. */
export const extraCall = (
  ladder: Ladder,
  kind: CallKind,
  atMs: number,
  to: readonly string[],
  ways: readonly Way[] = EVERY_WAY,
): LadderStepped => {
  const extra = ladder.extra + 1;
  return called({ ...ladder, extra }, { atMs, kind, label: `${kind}-${extra}`, roles: [], to, ways });
};

/** Everyone told so far but the one who did it; not by a call, by a quiet note. */
export const note = (ladder: Ladder, kind: CallKind, atMs: number, but?: string): LadderStepped => {
  const to = ladder.told.filter((person) => person !== but);
  const extra = ladder.extra + 1;
  const call: Call = { atMs, kind, label: `${kind}-${extra}`, roles: [], to, ways: QUIET_WAY };
  return { ladder: { ...ladder, extra }, calls: to.length === 0 ? [] : [call] };
};

/** The first after `but` whom the ladder would call. */
const nextPerson = (roster: Roster, atMs: number, but: string): readonly string[] =>
  roster
    .order(atMs)
    .filter((person) => person !== but)
    .slice(0, 1);

/** The same person and the next; then the policy goes on from where it stood. */
export const callAgain = (
  ladder: Ladder,
  by: string,
  atMs: number,
  roster: Roster,
  kind: CallKind = 'again',
): LadderStepped => {
  const done = pointAt(ladder.policy, ladder.next - 1)?.afterMs ?? 0;
  const same = by === '' ? [] : [by];
  const again = extraCall(ladder, kind, atMs, [...same, ...nextPerson(roster, atMs, by)]);
  const climbing = stand({ ...again.ladder, baseMs: atMs - done }, { kind: 'climbing' });
  return { ladder: climbing, calls: again.calls };
};

const climbOne = (ladder: Ladder, atMs: number, roster: Roster): LadderStepped => {
  const point = pointAt(ladder.policy, ladder.next);
  if (point === undefined) return { ladder: stand(ladder, { kind: 'ended', why: 'unanswered', atMs }), calls: [] };
  const to = people(roster, point.to, atMs);
  const moved = { ...ladder, next: ladder.next + 1 };
  if (to.length > 0) {
    const { label, ways, to: roles } = point;
    const done = called(moved, { atMs, kind: 'call', label, roles, to, ways });
    return { ladder: stand(done.ladder, { kind: 'climbing' }), calls: done.calls };
  }
  const isLast = ladder.next >= ladder.policy.steps.length - 1;
  if (isLast && ladder.told.length === 0) return callEverybody(moved, point.label, atMs, roster);
  // Nobody to be reached at this step: the next one does not wait for its hour.
  const after = isLast ? undefined : pointAt(ladder.policy, ladder.next + 1)?.afterMs;
  const sooner = after === undefined ? moved : { ...moved, baseMs: atMs - after };
  return { ladder: stand(sooner, { kind: 'climbing' }), calls: [] };
};

/** The watch is empty: whoever can be reached at all is called, whatever the plan says. */
const callEverybody = (ladder: Ladder, label: string, atMs: number, roster: Roster): LadderStepped => {
  const call: Call = {
    atMs,
    kind: 'nobody',
    label,
    roles: ['everybody'],
    to: people(roster, ['everybody'], atMs),
    ways: EVERY_WAY,
  };
  const done = called(ladder, call);
  return { ladder: stand(done.ladder, { kind: 'climbing' }), calls: done.calls };
};

const checkOn = (
  ladder: Ladder,
  standing: Extract<Standing, { kind: 'there' }>,
  atMs: number,
  roster: Roster,
): LadderStepped => {
  if (!standing.asked) {
    const asked = extraCall(ladder, 'check-in', atMs, [standing.by]);
    return { ...asked, ladder: stand(asked.ladder, { ...standing, asked: true, checkMs: atMs + GRACE_MS }) };
  }
  const others = roster.order(atMs).filter((person) => person !== standing.by);
  const alone = extraCall(ladder, 'alone', atMs, [standing.by, ...others]);
  return { ...alone, ladder: stand(alone.ladder, { ...standing, asked: false, checkMs: atMs + GRACE_MS }) };
};

/** Nothing is to be said of an end any more: it is said, or it was none. */
export const withoutCleared = (ladder: Ladder): Ladder => {
  if (ladder.sayClearedMs === undefined) return ladder;
  const { sayClearedMs: _, ...rest } = ladder;
  return stand(rest, rest.standing);
};

const fire = (ladder: Ladder, atMs: number, roster: Roster): LadderStepped => {
  const { standing, sayClearedMs } = ladder;
  if (sayClearedMs !== undefined && sayClearedMs <= atMs) return note(withoutCleared(ladder), 'cleared', atMs);
  switch (standing.kind) {
    case 'climbing':
      return climbOne(ladder, atMs, roster);
    case 'going':
    case 'passing':
    case 'acknowledged':
      return callAgain(ladder, standing.by, atMs, roster);
    case 'there':
      return checkOn(ladder, standing, atMs, roster);
    case 'ended':
      return { ladder: stand(ladder, standing), calls: [] };
  }
};

/** Every deadline due by then, each at its own time. */
export const climb = (ladder: Ladder, nowMs: number, roster: Roster): LadderStepped => {
  let now = ladder;
  const calls: Call[] = [];
  while (now.dueMs !== undefined && now.dueMs <= nowMs) {
    const fired = fire(now, now.dueMs, roster);
    now = fired.ladder;
    calls.push(...fired.calls);
  }
  return { ladder: now, calls };
};
