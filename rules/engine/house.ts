import { type Forecast, type Score, scored } from '../conditions/forecast.js';
import { settleSuppression } from './alarm-event.js';
import { type Draft, planOf } from './draft.js';
import { SCORE_MS } from './house-due.js';
import { endWork } from './work-end.js';

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
  draft.state.forecasts = open;
};

/** What is due at a moment that is no judgement's: it comes before the judgements of that moment. */
export const keepHouse = (draft: Draft, dueMs: number): void => {
  const { work, forecasts } = draft.state;
  if (work.length === 0 && forecasts.length === 0) return;
  const edges = work.filter(
    ({ fromMs, untilMs, endedMs }) => endedMs === undefined && (fromMs === dueMs || untilMs === dueMs),
  );
  for (const declared of edges) if (declared.untilMs === dueMs) endWork(draft, declared, dueMs);
  if (edges.length > 0) settleAll(draft, dueMs);
  if (forecasts.length > 0 && dueMs % SCORE_MS === 0) scoreForecasts(draft, dueMs);
};
