import type { Effect } from './engine/effect.js';
import type { Happening } from './engine/happening.js';
import type { EngineState } from './engine/state.js';
import { stepAll } from './engine.js';

export type Replayed = { readonly state: EngineState; readonly effects: readonly Effect[] };

const GROUP = 500;

/**
 * The fold of `step` over recorded happenings: start-up after a restart, tests, and "what would have sounded" with other
 * limits. Ends at the last happening: no deadline after it fires. Each effect is given to `take`, in order.
 */
export const replayInto = (
  state: EngineState,
  happenings: Iterable<Happening>,
  take: (effect: Effect) => void,
): EngineState => {
  let now = state;
  let group: Happening[] = [];
  const flush = (): void => {
    const done = stepAll(now, group);
    now = done.state;
    for (const effect of done.effects) take(effect);
    group = [];
  };
  for (const happening of happenings) if (group.push(happening) >= GROUP) flush();
  flush();
  return now;
};

/** The same with every effect at once. */
export const replay = (state: EngineState, happenings: Iterable<Happening>): Replayed => {
  const effects: Effect[] = [];
  return { state: replayInto(state, happenings, (effect) => effects.push(effect)), effects };
};

/** Only what a person would have noticed. */
export const alarmChanges = (effects: readonly Effect[]): readonly Extract<Effect, { do: 'alarm' }>[] =>
  effects.filter((effect) => effect.do === 'alarm');
