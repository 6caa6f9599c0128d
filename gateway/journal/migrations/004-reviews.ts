import type { Migration } from './migration.js';

/** Reviews as they were frozen: written once, never changed, never dropped. */
export const reviews: Migration = {
  version: 4,
  sql: `
    CREATE TABLE review (
      id TEXT PRIMARY KEY,
      frozen_ms INTEGER NOT NULL,
      by TEXT NOT NULL,
      -- SHA-256 of the body as it is read, before it is deflated.
      sha256 TEXT NOT NULL,
      body BLOB NOT NULL
    ) WITHOUT ROWID;
  `,
};
