import { alarmPicture } from '../rules/alarm/alarm.js';
import type { Effect } from '../rules/engine/effect.js';
import type { Landing } from './journal/landing.js';

type Draft = {
  -readonly [key in 'readings' | 'revisions' | 'alarms' | 'scores']: NonNullable<Landing[key]>[number][];
};

/** The one place where the engine's effects become rows: what a group caused, to be committed together. */
export const landingOf = (
  effects: readonly Effect[],
  beside: Partial<Pick<Landing, 'malformed' | 'boards' | 'packets' | 'snapshot'>> = {},
): Landing => {
  const draft: Draft = { readings: [], revisions: [], alarms: [], scores: [] };
  for (const effect of effects) put(draft, effect);
  return { malformed: [], boards: [], packets: [], ...draft, ...beside };
};

const put = ({ readings, revisions, alarms, scores }: Draft, effect: Effect): void => {
  switch (effect.do) {
    case 'keep': {
      const { sourceId, deviceMs, arrivalMs, raw, flags, refusedMs } = effect;
      // Field by field: it is done for every reading.
      readings.push(
        refusedMs === undefined
          ? { sourceId, deviceMs, arrivalMs, raw, flags }
          : { sourceId, deviceMs, arrivalMs, raw, flags, refusedMs },
      );
      return;
    }
    case 'revise': {
      const { do: _, ...revision } = effect;
      revisions.push(revision);
      return;
    }
    case 'alarm': {
      const { atMs, event, alarm, by } = effect;
      alarms.push({ atMs, alarm: alarmPicture(alarm), event, ...(by === undefined ? {} : { by }) });
      return;
    }
    case 'score': {
      const { do: _, ...score } = effect;
      scores.push(score);
      return;
    }
    case 'refuse':
      return;
  }
};
