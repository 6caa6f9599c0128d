import type { LateReadings } from '../../rules/words/raw-file.js';
import type { HistoryRow } from '../history/history.js';

/** Counts what arrived after a moment. */
export const buildLate = (afterMs: number) => {
  let [lateReadings, firstArrivalMs, lastArrivalMs] = [0, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  return {
    add: ({ arrivalMs }: Pick<HistoryRow, 'arrivalMs'>): void => {
      if (arrivalMs <= afterMs) return;
      lateReadings += 1;
      firstArrivalMs = Math.min(firstArrivalMs, arrivalMs);
      lastArrivalMs = Math.max(lastArrivalMs, arrivalMs);
    },
    told: (): LateReadings => (lateReadings === 0 ? { lateReadings } : { lateReadings, firstArrivalMs, lastArrivalMs }),
  };
};
