import type { Migration } from './migration.js';

/** Older readings, a source's UTC day in one row (gateway/journal/sealed/day.ts). Its rows go in the same transaction. */
export const sealedDays: Migration = {
  version: 3,
  sql: `
    -- Appended in the order of sealing, which packs the pages; a number is never given twice, so that what was opened once
    -- may be remembered by it. The body comes last: the rest is read without it.
    CREATE TABLE sealed_day (
      seal INTEGER PRIMARY KEY AUTOINCREMENT,
      source_id INTEGER NOT NULL,
      day INTEGER NOT NULL,
      readings INTEGER NOT NULL,
      first_ms INTEGER NOT NULL,
      last_ms INTEGER NOT NULL,
      body BLOB NOT NULL,
      UNIQUE (source_id, day)
    );
  `,
};
