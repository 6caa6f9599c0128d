import type { AlarmPicture } from '../alarm/alarm.js';
import { familyOf } from '../alarm/cause.js';
import type { AlarmDeed } from '../alarm/lifecycle.js';
import {
  acknowledgeLadder,
  answerLadder,
  endLadder,
  type FaultAnswer,
  messageFailed,
  messagesMade,
  worsenLadder,
} from './answer.js';
import { isChattering, remembered } from './chatter.js';
import { climb, stand, startLadder, withoutCleared } from './climb.js';
import { withClock } from './clock-step.js';
import type { AlertFault, Alerting, AlertsStepped, AlertWorld, Member } from './faults.js';
import type { Ladder, LadderStepped } from './ladder.js';
import { mergeOverdue } from './overdue.js';
import { isDone, joined, NOTHING_CHANGED, onFault, REST_MS, settle, type Turned, withLadder } from './settle.js';
import { isForecastWorse, isHigher } from './worse.js';

/** Everything that can move the ladders. */
export type AlertHappening =
  | {
      readonly kind: 'alarm';
      readonly atMs: number;
      readonly alarm: AlarmPicture;
      readonly event: string;
      readonly deeds: readonly AlarmDeed[];
      readonly by?: string;
    }
  /** The finding of an open alarm moved: its forecast may be worse. */
  | { readonly kind: 'finding'; readonly atMs: number; readonly alarm: AlarmPicture }
  | ({ readonly kind: 'answer'; readonly faultId: string } & FaultAnswer)
  | { readonly kind: 'tick'; readonly atMs: number }
  | {
      readonly kind: 'made';
      readonly atMs: number;
      readonly faultId: string;
      readonly label: string;
      readonly messages: number;
    }
  | { readonly kind: 'failed'; readonly atMs: number; readonly faultId: string; readonly label: string };

/** All ladders after one happening. Pure: the same state, happening and world give the same calls. */
export const stepAlerts = (alerting: Alerting, happening: AlertHappening, world: AlertWorld): AlertsStepped => {
  switch (happening.kind) {
    case 'tick':
      return tick(withClock(alerting, happening.atMs), happening.atMs, world);
    case 'alarm':
      return alarmed(alerting, happening, world);
    case 'finding':
      return onFault(alerting, faultOf(alerting, happening.alarm.id), (fault) => moved(fault, happening, world));
    case 'answer':
      return onFault(alerting, alerting.faults[happening.faultId], (fault) =>
        withLadder(fault, happening.atMs, (ladder) => answerLadder(ladder, happening, world.roster)),
      );
    case 'made':
    case 'failed':
      return onFault(alerting, alerting.faults[happening.faultId], (fault) =>
        withLadder(fault, happening.atMs, (ladder) => ({
          ladder:
            happening.kind === 'made'
              ? messagesMade(ladder, happening.label, happening.messages, happening.atMs)
              : messageFailed(ladder, happening.label, happening.atMs),
          calls: [],
        })),
      );
  }
};

const faultOf = ({ faults }: Alerting, alarmId: string): AlertFault | undefined =>
  Object.values(faults).find(({ members }) => members.some(({ id }) => id === alarmId));

const tick = (alerting: Alerting, atMs: number, world: AlertWorld): AlertsStepped => {
  let done: AlertsStepped = { alerting, ...NOTHING_CHANGED };
  for (const fault of Object.values(alerting.faults)) {
    const turned = withLadder(fault, atMs, (ladder) => mergeOverdue(climb(ladder, atMs, world.roster)));
    const isForgotten = isDone(fault) && atMs - fault.changedMs > REST_MS;
    if (turned.fault !== fault || isForgotten) done = joined(done, settle(done.alerting, fault, turned, atMs));
  }
  return done;
};

/** As long as an acknowledged high alarm stays quiet. */
const COVERED_MS = 30 * 60_000;

type AlarmHappening = Extract<AlertHappening, { kind: 'alarm' }>;

const alarmed = (alerting: Alerting, happening: AlarmHappening, world: AlertWorld): AlertsStepped => {
  const { alarm, atMs, deeds } = happening;
  const known = faultOf(alerting, alarm.id);
  if (deeds.includes('start-escalation')) {
    const fault = known ?? mateOf(alerting, alarm, world) ?? freshFault(alarm, atMs);
    return settle(alerting, fault, starts(fault, happening, world));
  }
  if (known === undefined) return { alerting, ...NOTHING_CHANGED };
  const isGone = alarm.state === 'normal' || happening.event === 'retired';
  const isCallingStill = deeds.includes('stop-escalation') || isGone ? false : undefined;
  const members = known.members.flatMap((member) =>
    member.id !== alarm.id ? [member] : isGone ? [] : [memberOf(alarm, isCallingStill ?? member.calling)],
  );
  const fault = { ...known, members, changedMs: atMs };
  if (isCallingStill === false && !members.some(({ calling }) => calling))
    return settle(alerting, known, stops(fault, happening, world));
  return settle(alerting, known, moved(fault, happening, world));
};

const memberOf = ({ id, priority, state, inhibit }: AlarmPicture, calling: boolean): Member => {
  const isTrue = state === 'unack' || state === 'ack';
  return { id, priority, calling, is: !isTrue ? 'well' : inhibit === undefined ? 'open' : 'aside' };
};

const causeOf = ({ finding }: AlarmPicture): string => `${familyOf(finding)} ${finding.placeId}`;

/** The fault that an alarm joins: one with which it has its cause in common, or one whose like it was a little while ago. */
const mateOf = ({ faults }: Alerting, alarm: AlarmPicture, world: AlertWorld): AlertFault | undefined => {
  const mates = new Set(world.matesOf(alarm));
  const all = Object.values(faults);
  return (
    all.find(({ members }) => members.some(({ id }) => mates.has(id))) ??
    all.find((fault) => fault.members.length === 0 && fault.cause === causeOf(alarm))
  );
};

const freshFault = (alarm: AlarmPicture, atMs: number): AlertFault => ({
  id: alarm.id,
  cause: causeOf(alarm),
  placeId: alarm.finding.placeId,
  members: [],
  runs: 0,
  activationsMs: [],
  changedMs: atMs,
});

/** An alarm asks for a person: the fault's first, one that joins it, or one that calls again. */
const starts = (before: AlertFault, { alarm, atMs, event }: AlarmHappening, world: AlertWorld): Turned => {
  const member = memberOf(alarm, true);
  const others = before.members.filter(({ id }) => id !== alarm.id);
  const isActivation = event !== 'realarm';
  const activationsMs = isActivation ? remembered(before.activationsMs, atMs) : before.activationsMs;
  const fault = { ...before, members: [...others, member], activationsMs, changedMs: atMs };
  if (before.ladder === undefined) return begins(fault, alarm, atMs, world);
  const ladder = withoutCleared(before.ladder);
  if (ladder.standing.kind === 'ended') {
    const isSame = isActivation && (isChattering(activationsMs) || wasJustCleared(ladder, atMs));
    return isSame
      ? moved({ ...fault, ladder: resumed(ladder, atMs) }, { alarm, atMs }, world)
      : begins(fault, alarm, atMs, world);
  }
  if (ladder.standing.kind !== 'acknowledged') return moved({ ...fault, ladder }, { alarm, atMs }, world);
  if (before.members.some(({ id }) => id === alarm.id)) return begins(fault, alarm, atMs, world);
  // Covered by the acknowledgement of the others, but not for ever: nobody has acknowledged this one.
  const covered = stand(ladder, { ...ladder.standing, untilMs: ladder.standing.sinceMs + COVERED_MS });
  return moved({ ...fault, ladder: covered }, { alarm, atMs }, world);
};

const wasJustCleared = ({ standing }: Ladder, atMs: number): boolean =>
  standing.kind === 'ended' && standing.why !== 'unanswered' && atMs - standing.atMs <= REST_MS;

/** Goes on where it was: who has it has it still, and people who know are not called from the first step again. */
const resumed = (ladder: Ladder, atMs: number): Ladder => {
  const inHand = ladder.standing.kind === 'ended' ? ladder.standing.before : undefined;
  if (inHand?.kind === 'acknowledged') return stand(ladder, { ...inHand, untilMs: inHand.sinceMs + COVERED_MS });
  if (inHand !== undefined) return stand(ladder, inHand);
  const standing = { kind: 'climbing' } as const;
  const again = stand(ladder, standing);
  const isOverdue = again.dueMs !== undefined && again.dueMs < atMs;
  return isOverdue ? stand({ ...ladder, baseMs: ladder.baseMs + (atMs - (again.dueMs ?? atMs)) }, standing) : again;
};

/** From the first step of the policy of its priority and hour. A priority without a policy calls nobody. */
const begins = (fault: AlertFault, alarm: AlarmPicture, atMs: number, world: AlertWorld): Turned => {
  const { priority } = alarm;
  const hour = world.hourAt(atMs);
  const policy = world.policies[hour][priority];
  const { harm: _harm, ladder: _ladder, ...rest } = fault;
  const { harm } = alarm.finding;
  const kept = { ...rest, ...(harm === undefined ? {} : { harm }) };
  if (policy === undefined || policy.steps.length === 0) return { fault: kept, calls: [] };
  const runs = fault.runs + 1;
  const started = startLadder({ run: runs, priority, hour, policy, atMs });
  const { ladder, calls } = climb(started, atMs, world.roster);
  return { fault: { ...kept, runs, ladder }, calls };
};

/** No member asks for a person any more. */
const stops = (fault: AlertFault, { atMs, event, by }: AlarmHappening, world: AlertWorld): Turned => {
  const isSeen = event === 'ack';
  return withLadder(fault, atMs, (ladder) => {
    if (isSeen && fault.members.length > 0) return acknowledgeLadder(ladder, by ?? '', atMs, world.roster);
    const has = (how: Member['is']): boolean => fault.members.some((member) => member.is === how);
    if (has('open')) return seenByOthers(ladder, atMs);
    if (has('aside')) return endLadder(ladder, 'inhibited', atMs, world.roster);
    // What the gateway knows to be over for good is said at once.
    return endLadder(ladder, 'cleared', atMs, world.roster, event === 'retired' ? 0 : REST_MS);
  });
};

/** What called is well; the others of the fault are not, and were seen before: quiet until one of them calls again. */
const seenByOthers = (ladder: Ladder, atMs: number): LadderStepped => {
  const { standing } = ladder;
  if (standing.kind === 'climbing')
    return { ladder: stand(ladder, { kind: 'acknowledged', by: '', sinceMs: atMs }), calls: [] };
  if (standing.kind !== 'acknowledged') return { ladder, calls: [] };
  // The one that was only covered is gone.
  const { untilMs: _, ...seen } = standing;
  return { ladder: stand(ladder, seen), calls: [] };
};

/** Priority or forecast may be worse than what people were told. */
const moved = (
  fault: AlertFault,
  { alarm, atMs }: { readonly alarm: AlarmPicture; readonly atMs: number },
  world: AlertWorld,
): Turned => {
  const { ladder } = fault;
  if (ladder === undefined) {
    const isWanted = world.policies[world.hourAt(atMs)][alarm.priority] !== undefined;
    return isWanted && fault.members.some(({ id, calling }) => calling && id === alarm.id)
      ? begins(fault, alarm, atMs, world)
      : { fault, calls: [] };
  }
  const { harm } = alarm.finding;
  const isUrgent = isHigher(alarm.priority, ladder.priority);
  if (!isUrgent && !isForecastWorse(fault.harm, harm, atMs)) return { fault, calls: [] };
  const told = { ...fault, ...(harm === undefined ? {} : { harm }) };
  if (!isUrgent) return withLadder(told, atMs, (now) => worsenLadder(now, atMs, world.roster));
  return withLadder({ ...told, runs: fault.runs + 1 }, atMs, (now) => steeper(now, alarm, atMs, world));
};

/** The policy of the higher priority rules from now on; whoever has the fault in hand is called again first. */
const steeper = (before: Ladder, { priority }: AlarmPicture, atMs: number, world: AlertWorld): LadderStepped => {
  const policy = world.policies[before.hour][priority] ?? before.policy;
  const isFree = before.standing.kind === 'climbing';
  const ladder = stand({ ...before, priority, policy, baseMs: atMs, next: isFree ? 0 : 1 }, before.standing);
  return isFree ? climb(ladder, atMs, world.roster) : worsenLadder(ladder, atMs, world.roster);
};
