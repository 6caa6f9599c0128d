import { fireDeadlines } from './engine/deadlines.js';
import { type Draft, draftOf, stateOf } from './engine/draft.js';
import type { Effect } from './engine/effect.js';
import type { Happening } from './engine/happening.js';
import { takeDone, takeHand, takePresence } from './engine/log.js';
import { comeBack, takeAnswer, takeBoard, takeHatchery, takeLink, takeStart, takeWork } from './engine/news.js';
import { takeReading } from './engine/reading.js';
import type { EngineState } from './engine/state.js';
import { never } from './result.js';

export type Step = {
  readonly state: EngineState;
  readonly effects: readonly Effect[];
  /** Places in `plan.channels` of the channels that moved: what a screen has to redraw. */
  readonly moved: ReadonlySet<number>;
};

const take = (draft: Draft, happening: Happening): void => {
  switch (happening.kind) {
    case 'reading':
      return takeReading(draft, happening);
    case 'tick':
      return;
    case 'start':
      return takeStart(draft, happening);
    case 'hatchery':
      return takeHatchery(draft, happening);
    case 'work':
      return takeWork(draft, happening);
    case 'board':
      return takeBoard(draft, happening);
    case 'hand':
      return takeHand(draft, happening);
    case 'done':
      return takeDone(draft, happening);
    case 'presence':
      return takePresence(draft, happening);
    case 'link':
      return takeLink(draft, happening);
    case 'answer':
      return takeAnswer(draft, happening);
    default:
      return never(happening);
  }
};

/**
 * Moves the engine over a group of happenings, in order. Before each, every deadline due by its time fires at its own
 * time. The gateway's clock may step back; the engine's never does.
 */
export const stepAll = (state: EngineState, happenings: readonly Happening[]): Step => {
  const draft = draftOf(state);
  for (const happening of happenings) {
    const atMs = Math.max(happening.atMs, draft.state.nowMs);
    if (happening.kind === 'start') comeBack(draft, atMs);
    fireDeadlines(draft, atMs);
    draft.state.nowMs = atMs;
    take(draft, atMs === happening.atMs ? happening : { ...happening, atMs });
  }
  return { state: stateOf(draft), effects: draft.effects, moved: draft.moved };
};

/** The one function that moves everything: state and happening in, state and effects out. Pure. */
export const step = (state: EngineState, happening: Happening): Step => stepAll(state, [happening]);
