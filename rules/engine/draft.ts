import type { Spot, View } from '../conditions/view.js';
import type { QualitySettings } from '../quality/settings.js';
import type { DeclaredWork } from '../work.js';
import { copyOfDues, type DueTree, setDue } from './due.js';
import type { Effect } from './effect.js';
import type { ChannelNow, PlaceNow } from './now.js';
import type { Plan } from './plan.js';
import type { EngineState, JudgementNow, ProbeNow } from './state.js';

type Writable<T> = { -readonly [key in keyof T]: T[key] };

/**
 * A state under way: the object and its arrays are this group's own copies, so that a group of a hundred readings copies
 * them once. Nothing outside rules/engine sees one, and the state it came from is never touched.
 */
export type Draft = {
  readonly state: Writable<EngineState>;
  readonly probes: ProbeNow[];
  readonly channels: ChannelNow[];
  readonly places: PlaceNow[];
  /** The state's own array until the first of them changes: see `ownJudgements`. */
  judgements: readonly JudgementNow[];
  /** Settings by learned periods, as `EngineState.learned`; copied when the first is learned. */
  learned: (QualitySettings | undefined)[] | undefined;
  nextDueMs: number;
  /** The deadlines, copied when the first of them moves. */
  due: DueTree | undefined;
  /** Made when the first condition looks. */
  view: View | undefined;
  /** By place, how its channels are looked at. */
  looks: Pick<Spot, 'channels' | 'channel'>[];
  /** Work not ended by its place, made from `from`. */
  workBy:
    | { readonly from: readonly DeclaredWork[]; readonly at: ReadonlyMap<string, readonly DeclaredWork[]> }
    | undefined;
  readonly effects: Effect[];
  /** Channels whose value or shown state moved. */
  readonly moved: Set<number>;
};

export const draftOf = (state: EngineState): Draft => ({
  state: { ...state },
  probes: state.probes.slice(),
  channels: state.channels.slice(),
  places: state.places.slice(),
  judgements: state.judgements,
  learned: undefined,
  nextDueMs: state.nextDueMs,
  due: undefined,
  view: undefined,
  looks: [],
  workBy: undefined,
  effects: [],
  moved: new Set(),
});

export const stateOf = (draft: Draft): EngineState => {
  const { state, probes, channels, places, judgements, nextDueMs } = draft;
  const learned = draft.learned ?? state.learned;
  return { ...state, probes, channels, places, judgements, nextDueMs, due: draft.due ?? state.due, learned };
};

export const planOf = (draft: Draft): Plan => draft.state.plan;

/** An index that the plan vouches for. A miss is a bug of ours. */
export const at = <T>(array: readonly T[], index: number): T => {
  const found = array[index];
  if (found === undefined) throw new Error(`Nothing at ${index} of ${array.length}`);
  return found;
};

/** The judgements, to be changed: there are thousands of them, and most groups of readings change none. */
export const ownJudgements = (draft: Draft): JudgementNow[] => {
  if (draft.judgements === draft.state.judgements) draft.judgements = draft.state.judgements.slice();
  return draft.judgements as JudgementNow[];
};

/** The deadlines as they are now, to be looked at. */
export const duesOf = (draft: Draft): DueTree => draft.due ?? draft.state.due;

/** A judgement has another deadline, or none. */
export const noteDue = (draft: Draft, index: number, dueMs: number | undefined): void => {
  draft.due ??= copyOfDues(draft.state.due);
  setDue(draft.due, index, dueMs);
  if (dueMs !== undefined && dueMs < draft.nextDueMs) draft.nextDueMs = dueMs;
};
