import type { Score } from '../../rules/conditions/forecast.js';
import type { Database } from './database.js';

/** What came of the forecasts that people were told. Only ever appended. */
export type ForecastScores = {
  keep(score: Score): void;
  /** The newest first. */
  newest(atMost: number): readonly Score[];
};

export const buildForecastScores = (database: Database): ForecastScores => {
  const insert = database.prepare<[number, string, string, number, string]>(
    'INSERT OR IGNORE INTO forecast_score (scored_ms, condition, subject, issued_ms, body) VALUES (?, ?, ?, ?, ?)',
  );
  const newest = database
    .prepare<[number], string>('SELECT body FROM forecast_score ORDER BY scored_ms DESC, id DESC LIMIT ?')
    .pluck();
  return {
    keep: (score) => {
      const { condition, subject, issuedMs } = score.forecast;
      insert.run(score.scoredMs, condition, subject, issuedMs, JSON.stringify(score));
    },
    newest: (atMost) => newest.all(atMost).map((body) => JSON.parse(body) as Score),
  };
};
