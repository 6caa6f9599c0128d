import type { Hatchery } from '../hatchery.js';
import { freshMemory } from '../quality/judge.js';
import { freshWaterMemory } from '../quality/out-of-water.js';
import { alarmEvent, settleBelow } from './alarm-event.js';
import { at, type Draft, ownJudgements, planOf } from './draft.js';
import { dueTreeOf } from './due.js';
import type { Effect } from './effect.js';
import type { Happening } from './happening.js';
import { settleAll } from './house.js';
import { noteHouseDue } from './house-due.js';
import { judgeOne, skipLooks } from './judging.js';
import { inFull } from './now.js';
import { type Plan, planFor } from './plan.js';
import { showChannel } from './shown.js';
import { type JudgementNow, judgementInFull } from './state.js';
import { endWork } from './work-end.js';

type News<K extends Happening['kind']> = Extract<Happening, { kind: K }>;

/** Longest one shelving, and longest without a break: never endless. Decision of this project. */
const SHELVE_MAX_MS = 8 * 3_600_000;
const SHELVE_TOTAL_MS = 12 * 3_600_000;

const judgeEverything = (draft: Draft, atMs: number): void => {
  for (let index = 0; index < draft.judgements.length; index += 1) judgeOne(draft, index, atMs, atMs);
  for (let index = 0; index < draft.channels.length; index += 1) showChannel(draft, index, atMs);
};

/** A gateway that was away knows nothing of the meantime: silence is counted anew, before any deadline of that time. */
export const comeBack = (draft: Draft, atMs: number): void => {
  draft.channels.forEach((channel, index) => {
    draft.channels[index] = { ...channel, heardMs: atMs };
  });
  skipLooks(draft, atMs);
};

export const takeStart = (draft: Draft, { atMs }: News<'start'>): void => {
  draft.state.startedMs = atMs;
  judgeEverything(draft, atMs);
};

const keyOf = (plan: Plan, index: number): string => {
  const { condition, subject } = at(plan.judgements, index);
  return `${condition.code} ${subject}`;
};

/** An alarm whose subject is gone (tank emptied, limit taken away) ends, and the journal says so. */
const retire = (draft: Draft, judgements: Iterable<JudgementNow>, atMs: number): void => {
  for (const { alarm } of judgements) {
    if (alarm === undefined) continue;
    const ended = { ...alarm, life: { core: 'normal', inhibits: [] }, changedMs: atMs } as const;
    const effect: Effect = { do: 'alarm', atMs, event: 'retired', alarm: ended, deeds: ['silence', 'stop-escalation'] };
    draft.effects.push(effect);
  }
};

const carry = <T>(
  target: T[],
  length: number,
  keyAt: (index: number) => string,
  before: Map<string, T>,
  fresh: () => T,
): void => {
  target.length = 0;
  for (let index = 0; index < length; index += 1) {
    const key = keyAt(index);
    target.push(before.get(key) ?? fresh());
    before.delete(key);
  }
};

/** New settings: what goes on keeps what is known of it, by source, channel, place, and condition with subject. */
export const takeHatchery = (draft: Draft, { atMs, hatchery }: News<'hatchery'>): void => {
  const old = planOf(draft);
  const plan = planFor(hatchery, atMs);
  const probes = new Map(draft.probes.map((probe, index) => [String(at(old.probes, index).sourceId), probe]));
  const channels = new Map(draft.channels.map((channel, index) => [at(old.channels, index).id, channel]));
  const places = new Map(draft.places.map((place, index) => [at(old.places, index).place.id, place]));
  const judgements = new Map(draft.judgements.map((judgement, index) => [keyOf(old, index), judgement]));
  carry(
    draft.probes,
    plan.probes.length,
    (index) => String(at(plan.probes, index).sourceId),
    probes,
    () => ({ quality: freshMemory, intervals: [] }),
  );
  carry(
    draft.channels,
    plan.channels.length,
    (index) => at(plan.channels, index).id,
    channels,
    () => inFull({ heardMs: atMs, recent: [], hours: [] }),
  );
  carry(
    draft.places,
    plan.places.length,
    (index) => at(plan.places, index).place.id,
    places,
    () => ({ water: freshWaterMemory, wet: 'unknown' as const }),
  );
  carry(
    ownJudgements(draft),
    plan.judgements.length,
    (index) => keyOf(plan, index),
    judgements,
    () => judgementInFull({ raw: false, rawMs: atMs, on: false, lagMs: 0 }),
  );
  retire(draft, judgements.values(), atMs);
  draft.state.hatchery = hatchery;
  draft.state.plan = plan;
  // What was derived went by the old places.
  draft.due = dueTreeOf(draft.judgements.map(({ dueMs }) => dueMs));
  draft.state.learned = undefined;
  draft.learned = undefined;
  draft.looks = [];
  judgeEverything(draft, atMs);
  settleAll(draft, atMs);
};

export const withHatchery = (hatchery: Hatchery, atMs: number): News<'hatchery'> => ({
  kind: 'hatchery',
  atMs,
  hatchery,
});

export const takeWork = (draft: Draft, { atMs, work }: News<'work'>): void => {
  const before = new Map(draft.state.work.map(({ id, endedMs }) => [id, endedMs]));
  const ended = work.filter(({ id, endedMs }) => endedMs !== undefined && before.get(id) === undefined);
  draft.state.work = work;
  for (const declared of ended) endWork(draft, declared, atMs);
  judgeEverything(draft, atMs);
  settleAll(draft, atMs);
  noteHouseDue(draft);
};

export const takeBoard = (draft: Draft, { atMs, board, state }: News<'board'>): void => {
  if (draft.state.boards[board]?.state === state) return;
  draft.state.boards = { ...draft.state.boards, [board]: { state, sinceMs: atMs } };
  judgeShared(draft, atMs);
};

export const takeLink = (draft: Draft, { atMs, broker }: News<'link'>): void => {
  if (draft.state.link.broker === broker) return;
  draft.state.link = { broker, sinceMs: atMs };
  judgeShared(draft, atMs);
};

/** What is not about any one place: boards, and the site. */
const judgeShared = (draft: Draft, atMs: number): void => {
  planOf(draft).judgements.forEach(({ condition: { scope } }, index) => {
    if (scope === 'board' || scope === 'site') judgeOne(draft, index, atMs, atMs);
  });
};

/** A person's word to an alarm. What changes nothing is refused with its reason, never silently. */
export const takeAnswer = (draft: Draft, answer: News<'answer'>): void => {
  const { atMs, alarmId, verb, by, reason, untilMs } = answer;
  const index = draft.judgements.findIndex(({ alarm }) => alarm?.id === alarmId);
  const alarm = draft.judgements[index]?.alarm;
  if (alarm === undefined) {
    draft.effects.push({ do: 'refuse', alarmId, verb, why: 'no-such-alarm' });
    return;
  }
  const capMs = Math.min(atMs + SHELVE_MAX_MS, (alarm.shelvedSinceMs ?? atMs) + SHELVE_TOTAL_MS);
  const shelveMs = verb === 'shelve' ? { untilMs: Math.min(untilMs ?? capMs, capMs) } : {};
  const done = alarmEvent(draft, index, verb, atMs, { by, ...shelveMs, ...(reason === undefined ? {} : { reason }) });
  if (!done) {
    draft.effects.push({
      do: 'refuse',
      alarmId,
      verb,
      why: alarm.life.inhibits.length > 0 ? 'not-allowed-now' : 'already-done',
    });
    return;
  }
  judgeOne(draft, index, atMs, atMs);
  settleBelow(draft, index, atMs);
};
