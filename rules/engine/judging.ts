import type { Alarm } from '../alarm/alarm.js';
import { type AlarmEvent, alarmStep, isOpen, type Life, NORMAL } from '../alarm/lifecycle.js';
import type { Opinion, Sight } from '../conditions/condition.js';
import type { Finding, Priority } from '../conditions/finding.js';
import { PRIORITIES } from '../conditions/finding.js';
import type { Quantity } from '../quantity.js';
import type { DeclaredWork } from '../work.js';
import { at, type Draft, planOf } from './draft.js';
import type { ChannelNow } from './now.js';
import type { JudgementPlan } from './plan.js';
import type { JudgementNow } from './state.js';

/** An acknowledged alarm that is still true calls again after this long; low ones never. Common practice, no source. */
const REALARM_MS: { readonly [priority in Priority]: number | undefined } = {
  high: 30 * 60_000,
  medium: 120 * 60_000,
  low: undefined,
};

const besideOf =
  (draft: Draft, place: number) =>
  (quantity: Quantity): ChannelNow | undefined => {
    const plan = planOf(draft);
    for (const index of at(plan.places, place).channels) {
      const channel = at(plan.channels, index);
      if (channel.quantity === quantity && channel.position === undefined) return draft.channels[index];
    }
    return undefined;
  };

const NO_WORK: readonly DeclaredWork[] = [];

const workAt = ({ state: { work } }: Draft, id: string): readonly DeclaredWork[] =>
  work.length === 0 ? NO_WORK : work.filter(({ placeId, endedMs }) => placeId === id && endedMs === undefined);

/** What a condition sees at a place, or at one of its channels; `atMs` in device time, `nowMs` the gateway's. */
const sightOf = (draft: Draft, place: number, channel: number | undefined, atMs: number, nowMs: number): Sight => {
  const { place: described } = at(planOf(draft).places, place);
  const common = {
    atMs,
    nowMs,
    place: described,
    placeNow: at(draft.places, place),
    work: workAt(draft, described.id),
    beside: besideOf(draft, place),
  };
  if (channel === undefined) return common;
  const { quantity, wants } = at(planOf(draft).channels, channel);
  return { ...common, channel: at(draft.channels, channel), quantity, wants };
};

const sameFinding = (a: Finding, b: Finding): boolean => JSON.stringify(a) === JSON.stringify(b);

const findingOf = (plan: JudgementPlan, sight: Sight, opinion: Opinion, now: JudgementNow): Finding | undefined => {
  if (opinion.finding === undefined) return undefined;
  const finding: Finding = {
    condition: plan.condition.code,
    placeId: sight.place.id,
    ...(plan.channel === undefined ? {} : { channelId: plan.subject }),
    ...opinion.finding,
    sinceMs: now.raw ? now.rawMs : sight.atMs,
  };
  return now.finding !== undefined && sameFinding(now.finding, finding) ? now.finding : finding;
};

export type AlarmCause = { readonly by?: string; readonly reason?: string; readonly untilMs?: number };

const changedAlarm = (
  alarm: Alarm,
  life: Life,
  event: AlarmEvent,
  atMs: number,
  { by, untilMs }: AlarmCause,
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
  return { ...rest, ...acknowledged, ...shelved, life, changedMs: atMs };
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
  const { alarm: _, ...rest } = now;
  draft.judgements[index] = isOpen(life) || life.inhibits.length > 0 ? { ...rest, alarm: changed } : rest;
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

const worse = (a: Priority, b: Priority): boolean => PRIORITIES.indexOf(a) > PRIORITIES.indexOf(b);

const realarmDueMs = ({ alarm, on }: JudgementNow): number | undefined => {
  if (alarm === undefined || !on || !('core' in alarm.life) || alarm.life.core !== 'ack') return undefined;
  const after = REALARM_MS[alarm.finding.priority];
  return after === undefined || alarm.acknowledgedMs === undefined ? undefined : alarm.acknowledgedMs + after;
};

const earliest = (...times: readonly (number | undefined)[]): number | undefined =>
  times.reduce(
    (best, time) => (time === undefined ? best : best === undefined ? time : Math.min(best, time)),
    undefined,
  );

/**
 * Arms the earliest of: a delay running out, the condition's own wish, re-alarm, the end of shelving. A wish that moves
 * away leaves the earlier deadline standing: the condition then just looks once more, and wishes again.
 */
const arm = (draft: Draft, index: number, againAtMs: number | undefined, gatewayMs: number): void => {
  const now = at(draft.judgements, index);
  const { onDelayMs, offDelayMs } = at(planOf(draft).judgements, index);
  // One millisecond late, so that a reading of that very moment speaks first; the alarm still counts from the delay's end.
  const turnMs = now.raw === now.on ? undefined : now.rawMs + (now.raw ? onDelayMs : offDelayMs) + now.lagMs + 1;
  const mustMs = earliest(turnMs, realarmDueMs(now), now.alarm?.shelvedUntilMs);
  const standing = now.dueMs !== undefined && now.dueMs > gatewayMs ? now.dueMs : undefined;
  const againMs = againAtMs !== undefined && againAtMs > gatewayMs ? earliest(againAtMs, standing) : undefined;
  const dueMs = earliest(mustMs, againMs);
  if (dueMs === now.dueMs) return;
  const { dueMs: _, ...rest } = now;
  draft.judgements[index] = dueMs === undefined ? rest : { ...rest, dueMs };
  if (dueMs !== undefined) draft.nextDueMs = Math.min(draft.nextDueMs, dueMs);
};

/** Lets one condition look, moves its comparator and delays, and its alarm with them. */
const judgeWith = (draft: Draft, index: number, sight: Sight): void => {
  const plan = at(planOf(draft).judgements, index);
  const now = at(draft.judgements, index);
  const opinion = plan.condition.judge(sight, now);
  const finding = opinion.finding === undefined ? now.finding : findingOf(plan, sight, opinion, now);
  const isTurning = opinion.raw !== undefined && opinion.raw !== now.raw;
  const { memory = now.memory } = opinion;
  if (isTurning || finding !== now.finding || memory !== now.memory) {
    draft.judgements[index] = {
      ...now,
      ...(isTurning ? { raw: !now.raw, rawMs: sight.atMs, lagMs: Math.max(0, sight.nowMs - sight.atMs) } : {}),
      ...(finding === undefined ? {} : { finding }),
      ...(memory === undefined ? {} : { memory }),
    };
  }
  turn(draft, index, sight.atMs, now.finding);
  const realarmMs = realarmDueMs(at(draft.judgements, index));
  if (realarmMs !== undefined && realarmMs <= sight.nowMs) alarmEvent(draft, index, 'realarm', realarmMs);
  arm(draft, index, opinion.againAtMs, sight.nowMs);
};

export const judgeOne = (draft: Draft, index: number, atMs: number, gatewayMs: number): void => {
  const { place, channel } = at(planOf(draft).judgements, index);
  judgeWith(draft, index, sightOf(draft, place, channel, atMs, gatewayMs));
};

/** Whether a delay has run out: the alarm turns at the moment it ran out, however late that is noticed. */
const turn = (draft: Draft, index: number, atMs: number, before: Finding | undefined): void => {
  const { onDelayMs, offDelayMs } = at(planOf(draft).judgements, index);
  const now = at(draft.judgements, index);
  const turnsMs = now.rawMs + (now.raw ? onDelayMs : offDelayMs);
  if (now.raw !== now.on && atMs >= turnsMs) {
    draft.judgements[index] = { ...now, on: now.raw };
    alarmEvent(draft, index, now.raw ? 'cond-on' : 'cond-off', turnsMs);
    return;
  }
  const { alarm, finding, on } = now;
  if (!on || alarm === undefined || finding === undefined) return;
  if (before !== undefined && worse(finding.priority, alarm.finding.priority))
    alarmEvent(draft, index, 'realarm', atMs);
  else if (finding !== alarm.finding) draft.judgements[index] = { ...now, alarm: { ...alarm, finding } };
};

/** Every condition that listens to this channel: the channel's own, then its place's. */
export const judgeChannel = (draft: Draft, channel: number, atMs: number, gatewayMs: number): void => {
  const { place, judgements } = at(planOf(draft).channels, channel);
  const own = sightOf(draft, place, channel, atMs, gatewayMs);
  for (const index of judgements) {
    const isOwn = at(planOf(draft).judgements, index).channel !== undefined;
    judgeWith(draft, index, isOwn ? own : sightOf(draft, place, undefined, atMs, gatewayMs));
  }
};
