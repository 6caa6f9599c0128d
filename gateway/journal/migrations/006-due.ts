import type { Migration } from './migration.js';

/** What a history database elsewhere has not confirmed yet. Written only while one is set (`meta`: history-target). */
export const due: Migration = {
  version: 6,
  sql: `
    -- Readings that landed or were judged anew, group by group: pairs of source and device ms. A row goes when the database
    -- has confirmed what is in it. oldest_day: the earliest UTC day that is touched.
    CREATE TABLE due (number INTEGER PRIMARY KEY, oldest_day INTEGER NOT NULL, readings BLOB NOT NULL);

    -- A source's whole UTC days: what was here before the database was set, and a backlog that became long. The mark counts
    -- up when a day becomes due again, so that an answer to what was read before does not settle it.
    CREATE TABLE due_day (
      source_id INTEGER NOT NULL,
      day INTEGER NOT NULL,
      mark INTEGER NOT NULL,
      PRIMARY KEY (source_id, day)
    ) WITHOUT ROWID;

    -- What the database refuses for ever: set aside so that the rest goes on, and kept here for as long as ever.
    CREATE TABLE refused_reading (
      source_id INTEGER NOT NULL,
      device_ms INTEGER NOT NULL,
      variant INTEGER NOT NULL,
      at_ms INTEGER NOT NULL,
      because TEXT NOT NULL,
      PRIMARY KEY (source_id, device_ms, variant)
    ) WITHOUT ROWID;

    -- A source's days that were dropped here because the database has them: how many readings in all, and how many times
    -- something of the day was dropped, so that a copy of it that was fetched before is known to be short.
    CREATE TABLE gone_day (
      source_id INTEGER NOT NULL,
      day INTEGER NOT NULL,
      times INTEGER NOT NULL,
      readings INTEGER NOT NULL,
      PRIMARY KEY (source_id, day)
    ) WITHOUT ROWID;
    -- Until now what was dropped was dropped for good.
    INSERT INTO meta (key, value) SELECT 'raw-lost-before-day', value FROM meta WHERE key = 'raw-from-day';
  `,
};
