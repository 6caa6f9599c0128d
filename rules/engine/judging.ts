import type { Opinion, Sight } from '../conditions/condition.js';
import { type Finding, PRIORITIES, type Priority } from '../conditions/finding.js';
import { issued } from '../conditions/forecast.js';
import { alarmEvent, settleBelow, settleSuppression } from './alarm-event.js';
import { at, type Draft, noteDue, ownJudgements, planOf } from './draft.js';
import { noteHouseDue } from './house-due.js';
import type { JudgementPlan } from './judgement-plan.js';
import { isSamePlain } from './same-plain.js';
import { sightOf } from './sight.js';
import type { JudgementNow } from './state.js';
import { isSuppressed } from './suppression.js';

/** An acknowledged alarm that is still true calls again after this long; low ones never. Common practice, no source. */
const REALARM_MS: { readonly [priority in Priority]: number | undefined } = {
  high: 30 * 60_000,
  medium: 120 * 60_000,
  low: undefined,
};

const worse = (a: Priority, b: Priority): boolean => PRIORITIES.indexOf(a) > PRIORITIES.indexOf(b);

const isShelved = ({ alarm }: JudgementNow): boolean => alarm?.shelvedUntilMs !== undefined;

/**
 * While it is true it does not get milder, so that a wavering judgement calls once and not at each turn. Put aside it
 * may: it comes forward again as what it is then.
 */
const heldPriority = (now: JudgementNow, priority: Priority): Priority => {
  const { on, finding } = now;
  return on && !isShelved(now) && finding !== undefined && worse(finding.priority, priority)
    ? finding.priority
    : priority;
};

const findingOf = (plan: JudgementPlan, sight: Sight, opinion: Opinion, now: JudgementNow): Finding | undefined => {
  if (opinion.finding === undefined) return undefined;
  const finding: Finding = {
    condition: plan.condition.code,
    placeId: sight.place.id,
    ...(plan.channel === undefined ? {} : { channelId: plan.subject }),
    ...opinion.finding,
    priority: heldPriority(now, opinion.finding.priority),
    sinceMs: now.raw ? now.rawMs : sight.atMs,
  };
  return now.finding !== undefined && isSamePlain(now.finding, finding) ? now.finding : finding;
};

const realarmDueMs = ({ alarm, on }: JudgementNow): number | undefined => {
  if (alarm === undefined || !on || !('core' in alarm.life) || alarm.life.core !== 'ack') return undefined;
  const after = REALARM_MS[alarm.finding.priority];
  return after === undefined || alarm.acknowledgedMs === undefined ? undefined : alarm.acknowledgedMs + after;
};

const earlier = (a: number | undefined, b: number | undefined): number | undefined =>
  a === undefined ? b : b === undefined ? a : Math.min(a, b);

/** The next whole multiple of the rhythm. */
const nextLookMs = (everyMs: number | undefined, nowMs: number): number | undefined =>
  everyMs === undefined ? undefined : (Math.floor(nowMs / everyMs) + 1) * everyMs;

/**
 * Arms the earliest of: a delay running out, the condition's own wish, re-alarm, the end of shelving. A wish that moves
 * away leaves the earlier deadline standing: the condition then just looks once more, and wishes again.
 */
const arm = (draft: Draft, index: number, wishMs: number | undefined, gatewayMs: number): void => {
  const now = at(draft.judgements, index);
  const { onDelayMs, offDelayMs, condition } = at(planOf(draft).judgements, index);
  const againAtMs = earlier(wishMs, nextLookMs(condition.everyMs, gatewayMs));
  // One millisecond late, so that a reading of that very moment speaks first; the alarm still counts from the delay's end.
  const turnMs = now.raw === now.on ? undefined : now.rawMs + (now.raw ? onDelayMs : offDelayMs) + now.lagMs + 1;
  const mustMs =
    now.alarm === undefined ? turnMs : earlier(earlier(turnMs, realarmDueMs(now)), now.alarm.shelvedUntilMs);
  const standing = now.dueMs !== undefined && now.dueMs > gatewayMs ? now.dueMs : undefined;
  const againMs = againAtMs !== undefined && againAtMs > gatewayMs ? earlier(againAtMs, standing) : undefined;
  const dueMs = earlier(mustMs, againMs);
  if (dueMs === now.dueMs) return;
  const { raw, rawMs, on, lagMs, finding, memory, alarm } = now;
  ownJudgements(draft)[index] = { raw, rawMs, on, lagMs, dueMs, finding, memory, alarm };
  noteDue(draft, index, dueMs);
};

/**
 * The gateway was away: what looks at its own rhythm did not look meanwhile, and need not look back. Delays and calls
 * that were running keep their time.
 */
export const skipLooks = (draft: Draft, backMs: number): void => {
  for (let index = 0; index < draft.judgements.length; index += 1) {
    if (at(planOf(draft).judgements, index).condition.everyMs !== undefined) arm(draft, index, undefined, backMs);
  }
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
    const raw = isTurning ? !now.raw : now.raw;
    const rawMs = isTurning ? sight.atMs : now.rawMs;
    const lagMs = isTurning ? Math.max(0, sight.nowMs - sight.atMs) : now.lagMs;
    const { on, dueMs, alarm } = now;
    ownJudgements(draft)[index] = { raw, rawMs, on, lagMs, dueMs, finding, memory, alarm };
  }
  // Quiet before and after: nothing turns, nothing is followed, nobody called.
  if (!isTurning && !now.raw && !now.on) return arm(draft, index, opinion.againAtMs, sight.nowMs);
  turn(draft, index, sight, now.finding);
  const after = at(draft.judgements, index);
  const realarmMs = after.alarm === undefined ? undefined : realarmDueMs(after);
  if (realarmMs !== undefined && realarmMs <= sight.nowMs) alarmEvent(draft, index, 'realarm', realarmMs);
  arm(draft, index, opinion.againAtMs, sight.nowMs);
};

export const judgeOne = (draft: Draft, index: number, atMs: number, gatewayMs: number): void =>
  judgeWith(draft, index, sightOf(draft, at(planOf(draft).judgements, index), atMs, gatewayMs));

/** A delay has run out: the alarm turns at the moment it ran out, however late that is noticed. */
const turnOver = (draft: Draft, index: number, turnsMs: number, nowMs: number): void => {
  const now = at(draft.judgements, index);
  ownJudgements(draft)[index] = { ...now, on: now.raw };
  // Suppressed first, so that nobody is called for what is covered; both stay in the record.
  if (now.raw && isSuppressed(draft, index, nowMs)) alarmEvent(draft, index, 'suppress', turnsMs);
  alarmEvent(draft, index, now.raw ? 'cond-on' : 'cond-off', turnsMs);
  settleSuppression(draft, index, nowMs);
  settleBelow(draft, index, nowMs);
};

const noteForecast = (draft: Draft, index: number, atMs: number): void => {
  const { finding, on } = at(draft.judgements, index);
  if (!on || finding?.harm === undefined) return;
  const { forecasts } = draft.state;
  const next = issued(forecasts, finding, at(planOf(draft).judgements, index).subject, atMs);
  if (next === forecasts) return;
  draft.state.forecasts = next;
  noteHouseDue(draft);
};

const follow = (draft: Draft, index: number, { atMs, nowMs }: Sight, before: Finding | undefined): void => {
  const { alarm, finding, on } = at(draft.judgements, index);
  if (!on || alarm === undefined || finding === undefined) return;
  const isWorse = before !== undefined && worse(finding.priority, alarm.finding.priority);
  const hasCalled = isWorse && alarmEvent(draft, index, 'realarm', atMs);
  if (!hasCalled && finding !== alarm.finding) {
    const now = at(draft.judgements, index);
    ownJudgements(draft)[index] = { ...now, alarm: { ...alarm, finding } };
  }
  if (finding.priority === before?.priority) return;
  settleSuppression(draft, index, nowMs);
  settleBelow(draft, index, nowMs);
};

const turn = (draft: Draft, index: number, sight: Sight, before: Finding | undefined): void => {
  const { onDelayMs, offDelayMs } = at(planOf(draft).judgements, index);
  const now = at(draft.judgements, index);
  const turnsMs = now.rawMs + (now.raw ? onDelayMs : offDelayMs);
  if (now.raw !== now.on && sight.atMs >= turnsMs) turnOver(draft, index, turnsMs, sight.nowMs);
  else follow(draft, index, sight, before);
  noteForecast(draft, index, sight.nowMs);
};

/** Every condition that listens to this channel: the channel's own, then its place's. */
export const judgeChannel = (draft: Draft, channel: number, atMs: number, gatewayMs: number): void => {
  const { id, place, judgements } = at(planOf(draft).channels, channel);
  const own = sightOf(draft, { subject: id, place, channel }, atMs, gatewayMs);
  let whole: Sight | undefined;
  for (const index of judgements) {
    const judgement = at(planOf(draft).judgements, index);
    if (judgement.channel !== undefined) judgeWith(draft, index, own);
    else {
      whole ??= sightOf(draft, { subject: judgement.subject, place }, atMs, gatewayMs);
      judgeWith(draft, index, whole);
    }
  }
};
