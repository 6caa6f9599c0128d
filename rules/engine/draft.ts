import type { View } from '../conditions/view.js';
import { type DueList, dueListOf } from './due.js';
import type { Effect } from './effect.js';
import type { ChannelNow, PlaceNow } from './now.js';
import type { Plan } from './plan.js';
import type { EngineState, JudgementNow, ProbeNow } from './state.js';

/**
 * A state under way: the arrays are this group's own copies, so that a group of a hundred readings copies them once.
 * Nothing outside rules/engine sees one, and the state it came from is never touched.
 */
export type Draft = {
  state: EngineState;
  readonly probes: ProbeNow[];
  readonly channels: ChannelNow[];
  readonly places: PlaceNow[];
  readonly judgements: JudgementNow[];
  nextDueMs: number;
  /** Deadlines in order, made when the first of this group fires; some are out of date, the judgement knows. */
  due: DueList | undefined;
  /** Made when the first condition looks. */
  view: View | undefined;
  readonly effects: Effect[];
  /** Channels whose value or shown state moved. */
  readonly moved: Set<number>;
};

export const draftOf = (state: EngineState): Draft => ({
  state,
  probes: state.probes.slice(),
  channels: state.channels.slice(),
  places: state.places.slice(),
  judgements: state.judgements.slice(),
  nextDueMs: state.nextDueMs,
  due: undefined,
  view: undefined,
  effects: [],
  moved: new Set(),
});

export const stateOf = ({ state, probes, channels, places, judgements, nextDueMs }: Draft): EngineState => ({
  ...state,
  probes,
  channels,
  places,
  judgements,
  nextDueMs,
});

export const planOf = (draft: Draft): Plan => draft.state.plan;

/** An index that the plan vouches for. A miss is a bug of ours. */
export const at = <T>(array: readonly T[], index: number): T => {
  const found = array[index];
  if (found === undefined) throw new Error(`Nothing at ${index} of ${array.length}`);
  return found;
};

/** The deadlines of all judgements in order. */
export const duesOf = (draft: Draft): DueList => {
  draft.due ??= dueListOf(
    draft.judgements.flatMap(({ dueMs }, index) => (dueMs === undefined ? [] : [[dueMs, index] as const])),
  );
  return draft.due;
};
