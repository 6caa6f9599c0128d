import { mayCover } from '../alarm/cover.js';
import { isSuspended, REACHES_SUPPLIED } from '../conditions/suspended.js';
import { type DeclaredWork, isUnderWay } from '../work.js';
import { at, type Draft, planOf } from './draft.js';
import { suppliesOf } from './relations.js';

/** Nothing begins or ends by itself before this: when rules stand aside, and when they stand again. */
export const nextWorkEdgeMs = (work: readonly DeclaredWork[], afterMs: number): number | undefined =>
  work.reduce<number | undefined>((first, { fromMs, untilMs, endedMs }) => {
    if (endedMs !== undefined) return first;
    const sooner = fromMs > afterMs && (first === undefined || fromMs < first) ? fromMs : first;
    return untilMs > afterMs && (sooner === undefined || untilMs < sooner) ? untilMs : sooner;
  }, undefined);

const byWork = (draft: Draft, index: number, atMs: number): boolean => {
  const { work } = draft.state;
  if (work.length === 0) return false;
  const plan = planOf(draft);
  const { condition, place, channel } = at(plan.judgements, index);
  const own = at(plan.places, place).place;
  const quantity = channel === undefined ? undefined : at(plan.channels, channel).quantity;
  return work.some(
    (declared) =>
      isUnderWay(declared, atMs) &&
      isSuspended(declared.kind, condition.code, quantity) &&
      (declared.placeId === own.id ||
        (REACHES_SUPPLIED.has(declared.kind) && suppliesOf(own).includes(declared.placeId))),
  );
};

/**
 * A person who put the upper alarm aside has not answered the lower one; but a board that is known to be away explains
 * the silence of its probes all the same.
 */
const isPutAside = (draft: Draft, index: number): boolean => {
  const inhibits = at(draft.judgements, index).alarm?.life.inhibits ?? [];
  return inhibits.some((inhibit) => inhibit !== 'suppressed');
};

const byWorse = (draft: Draft, index: number): boolean => {
  const above = planOf(draft).covers.above.get(index);
  const under = at(draft.judgements, index).finding?.priority;
  if (above === undefined || under === undefined) return false;
  return above.some(({ over, reach }) => {
    const { on, finding } = at(draft.judgements, over);
    if (!on || finding === undefined || !mayCover(reach, finding.priority, under)) return false;
    return reach === 'board' || reach === 'site' || !isPutAside(draft, over);
  });
};

/** Whether an alarm is to be suppressed by design now: by declared work, or because a worse one speaks for it. */
export const isSuppressed = (draft: Draft, index: number, atMs: number): boolean =>
  byWork(draft, index, atMs) || byWorse(draft, index);
