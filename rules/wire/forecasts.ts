import type { ForecastRecord, Score } from '../conditions/forecast.js';

export type ForecastsPicture = {
  /** The newest first. */
  readonly scores: readonly Score[];
  readonly record: ForecastRecord;
};
