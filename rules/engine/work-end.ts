import type { DeclaredWork, WorkKind } from '../work.js';
import { alarmEvent } from './alarm-event.js';
import { at, type Draft, ownJudgements, planOf } from './draft.js';
import { judgeOne } from './judging.js';

/** Work after which the water, or the probe, is not what it was. */
const CHANGES_WATER: ReadonlySet<WorkKind> = new Set<WorkKind>([
  'drain-down',
  'water-change',
  'filling',
  'probe-service',
  'bed-cleaning',
  'disinfection',
  'spawning-run',
]);

/** What was before such work is another story: no slope spans it. */
const forgetWater = (draft: Draft, { kind, placeId }: DeclaredWork): void => {
  const place = planOf(draft).relations.placeOf.get(placeId);
  if (place === undefined || !CHANGES_WATER.has(kind)) return;
  for (const index of at(planOf(draft).places, place).channels) {
    draft.channels[index] = { ...at(draft.channels, index), recent: [] };
  }
};

/**
 * Declared work has ended: no slope spans it, and what it alone had set off is over with it. A condition that is still
 * true comes forward; one that only waits for its off-delay does not.
 */
export const endWork = (draft: Draft, declared: DeclaredWork, nowMs: number): void => {
  forgetWater(draft, declared);
  const place = planOf(draft).relations.placeOf.get(declared.placeId);
  planOf(draft).judgements.forEach((judgement, index) => {
    if (judgement.place !== place) return;
    judgeOne(draft, index, nowMs, nowMs);
    const now = at(draft.judgements, index);
    const isSuppressed = now.alarm?.life.inhibits.some((inhibit) => inhibit === 'suppressed') === true;
    if (!isSuppressed || !now.on || now.raw) return;
    ownJudgements(draft)[index] = { ...now, on: false };
    alarmEvent(draft, index, 'cond-off', nowMs);
  });
};
