import type { Migration } from './migration.js';

/** What a list of reviews says of each, so that it need not open them all. */
export const reviewLines: Migration = {
  version: 7,
  // JSON; of a review that was frozen before, nothing: its body tells.
  sql: 'ALTER TABLE review ADD COLUMN line TEXT;',
};
