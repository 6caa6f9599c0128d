import type { Alarm } from '../alarm/alarm.js';
import { type AlarmEvent, alarmStep, isOpen, type Life, NORMAL } from '../alarm/lifecycle.js';
import { at, type Draft, ownJudgements, planOf } from './draft.js';
import { isSuppressed } from './suppression.js';

/** A person puts it aside. */
const ASIDE: readonly AlarmEvent[] = ['shelve', 'out-of-service'];

export type AlarmCause = { readonly by?: string; readonly reason?: string; readonly untilMs?: number };

const changedAlarm = (
  alarm: Alarm,
  life: Life,
  event: AlarmEvent,
  atMs: number,
  { by, reason, untilMs }: AlarmCause,
): Alarm => {
  const { acknowledgedBy: _by, acknowledgedMs: _ms, shelvedUntilMs: _until, shelvedSinceMs: _since, ...rest } = alarm;
  const fresh = 'core' in life && life.core === 'unack' && event !== 'cond-on' ? {} : undefined;
  const acknowledged =
    event === 'ack'
      ? { acknowledgedMs: atMs, ...(by === undefined ? {} : { acknowledgedBy: by }) }
      : (fresh ?? {
          ...(alarm.acknowledgedMs === undefined ? {} : { acknowledgedMs: alarm.acknowledgedMs }),
          ...(alarm.acknowledgedBy === undefined ? {} : { acknowledgedBy: alarm.acknowledgedBy }),
        });
  const shelved = life.inhibits.some((inhibit) => inhibit === 'shelved')
    ? { shelvedUntilMs: untilMs ?? alarm.shelvedUntilMs ?? atMs, shelvedSinceMs: alarm.shelvedSinceMs ?? atMs }
    : {};
  const aside = ASIDE.includes(event)
    ? { ...(by === undefined ? {} : { asideBy: by }), ...(reason === undefined ? {} : { asideReason: reason }) }
    : {};
  return { ...rest, ...acknowledged, ...shelved, ...aside, life, changedMs: atMs };
};

/** Sends one event to a judgement's alarm; false when the life cycle refuses it. */
export const alarmEvent = (
  draft: Draft,
  index: number,
  event: AlarmEvent,
  atMs: number,
  cause: AlarmCause = {},
): boolean => {
  const now = at(draft.judgements, index);
  const plan = at(planOf(draft).judgements, index);
  const { finding } = now;
  if (finding === undefined) return false;
  const alarm: Alarm = now.alarm ?? {
    id: `${plan.condition.code}.${plan.subject.replace('~', '-')}.${atMs.toString(36)}`,
    subject: plan.subject,
    finding,
    life: NORMAL,
    activatedMs: atMs,
    changedMs: atMs,
  };
  const { life, accepted, deeds } = alarmStep(alarm.life, event, plan.latching);
  if (!accepted) return false;
  if (deeds.length === 0 && life === alarm.life) return true;
  const activatedMs = event === 'cond-on' && !isOpen(alarm.life) ? atMs : alarm.activatedMs;
  const changed = { ...changedAlarm(alarm, life, event, atMs, cause), finding, activatedMs };
  const isKept = isOpen(life) || life.inhibits.length > 0;
  ownJudgements(draft)[index] = { ...now, alarm: isKept ? changed : undefined };
  const { by, reason } = cause;
  draft.effects.push({
    do: 'alarm',
    atMs,
    event,
    alarm: changed,
    deeds,
    ...(by === undefined ? {} : { by }),
    ...(reason === undefined ? {} : { reason }),
  });
  return true;
};

/** Suppresses an alarm or lets it come forward, as its work and the worse conditions above it are now. */
export const settleSuppression = (draft: Draft, index: number, nowMs: number): void => {
  const { alarm, on } = at(draft.judgements, index);
  if (alarm === undefined) return;
  const is = alarm.life.inhibits.some((inhibit) => inhibit === 'suppressed');
  const shouldBe = on && isSuppressed(draft, index, nowMs);
  if (is !== shouldBe) alarmEvent(draft, index, shouldBe ? 'suppress' : 'unsuppress', nowMs);
};

/** The same for everything that may stand behind this one. */
export const settleBelow = (draft: Draft, index: number, nowMs: number): void => {
  for (const { under } of planOf(draft).covers.below.get(index) ?? []) settleSuppression(draft, under, nowMs);
};
