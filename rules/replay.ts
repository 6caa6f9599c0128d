import type { Effect } from './engine/effect.js';
import type { Happening } from './engine/happening.js';
import type { EngineState } from './engine/state.js';
import { stepAll } from './engine.js';

export type Replayed = { readonly state: EngineState; readonly effects: readonly Effect[] };

/**
 * The fold of `step` over recorded happenings: start-up after a restart, tests, and "what would have sounded" with other
 * limits. Ends at the last happening: no deadline after it fires.
 */
export const replay = (state: EngineState, happenings: Iterable<Happening>): Replayed => {
  const effects: Effect[] = [];
  let now = state;
  let group: Happening[] = [];
  const flush = (): void => {
    const done = stepAll(now, group);
    now = done.state;
    for (const effect of done.effects) effects.push(effect);
    group = [];
  };
  for (const happening of happenings) {
    group.push(happening);
    if (group.length >= 500) flush();
  }
  flush();
  return { state: now, effects };
};

/** Only what a person would have noticed. */
export const alarmChanges = (effects: readonly Effect[]): readonly Extract<Effect, { do: 'alarm' }>[] =>
  effects.filter((effect) => effect.do === 'alarm');
