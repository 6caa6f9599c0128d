import type { Migration } from './migration.js';

/** Every forecast that somebody was told, with what came of it: written once, never changed. */
export const forecastScores: Migration = {
  version: 5,
  sql: `
    CREATE TABLE forecast_score (
      id INTEGER PRIMARY KEY,
      scored_ms INTEGER NOT NULL,
      condition TEXT NOT NULL,
      subject TEXT NOT NULL,
      issued_ms INTEGER NOT NULL,
      body TEXT NOT NULL,
      -- Told again by a restart, it is the same score.
      UNIQUE (condition, subject, issued_ms)
    );
    CREATE INDEX forecast_score_by_time ON forecast_score (scored_ms);
  `,
};
