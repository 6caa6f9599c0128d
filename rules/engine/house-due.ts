import type { Draft } from './draft.js';
import { NEVER_MS } from './state.js';
import { nextWorkEdgeMs } from './suppression.js';

/** How often pending forecasts are held against the water. */
export const SCORE_MS = 30_000;

/** When the engine itself has something to do: declared work begins or ends, or forecasts are waiting to be scored. */
export const houseDueMs = ({ state: { nowMs, work, forecasts } }: Draft): number => {
  const edgeMs = work.length === 0 ? undefined : nextWorkEdgeMs(work, nowMs);
  const scoreMs = forecasts.length === 0 ? NEVER_MS : (Math.floor(nowMs / SCORE_MS) + 1) * SCORE_MS;
  return Math.min(edgeMs ?? NEVER_MS, scoreMs);
};

export const noteHouseDue = (draft: Draft): void => {
  draft.nextDueMs = Math.min(draft.nextDueMs, houseDueMs(draft));
};
