import { type Forecast, type Score, scored } from '../conditions/forecast.js';
import { settleSuppression } from './alarm-event.js';
import { type Draft, planOf } from './draft.js';
import { NEVER_MS } from './state.js';
import { nextWorkEdgeMs } from './suppression.js';

/** How often pending forecasts are held against the water. */
const SCORE_MS = 30_000;

/** When the engine itself has something to do: declared work begins or ends, or forecasts are waiting to be scored. */
export const houseDueMs = ({ state: { nowMs, work, forecasts } }: Draft): number => {
  const edgeMs = work.length === 0 ? undefined : nextWorkEdgeMs(work, nowMs);
  const scoreMs = forecasts.length === 0 ? NEVER_MS : (Math.floor(nowMs / SCORE_MS) + 1) * SCORE_MS;
  return Math.min(edgeMs ?? NEVER_MS, scoreMs);
};

export const noteHouseDue = (draft: Draft): void => {
  draft.nextDueMs = Math.min(draft.nextDueMs, houseDueMs(draft));
};

/** Every alarm, as declared work and worse conditions have it now. */
export const settleAll = (draft: Draft, nowMs: number): void => {
  for (let index = 0; index < draft.judgements.length; index += 1) settleSuppression(draft, index, nowMs);
};

const scoreOf = (draft: Draft, forecast: Forecast, nowMs: number): Score | undefined => {
  const index = planOf(draft).channelOf.get(forecast.channelId);
  const channel = index === undefined ? undefined : draft.channels[index];
  return scored(forecast, { nowMs, value: channel?.value, valueMs: channel?.atMs });
};

const scoreForecasts = (draft: Draft, nowMs: number): void => {
  const { forecasts } = draft.state;
  const scores = new Map(forecasts.map((forecast) => [forecast, scoreOf(draft, forecast, nowMs)]));
  const open = forecasts.filter((forecast) => scores.get(forecast) === undefined);
  if (open.length === forecasts.length) return;
  for (const score of scores.values()) if (score !== undefined) draft.effects.push({ do: 'score', ...score });
  draft.state = { ...draft.state, forecasts: open };
};

/** What is due at a moment that is no judgement's: it comes before the judgements of that moment. */
export const keepHouse = (draft: Draft, dueMs: number): void => {
  const { work, forecasts } = draft.state;
  const isEdge = work.some(({ fromMs, untilMs }) => fromMs === dueMs || untilMs === dueMs);
  if (isEdge) settleAll(draft, dueMs);
  if (forecasts.length > 0 && dueMs % SCORE_MS === 0) scoreForecasts(draft, dueMs);
};
