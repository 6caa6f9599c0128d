import type { Migration } from './migration.js';

/** Who is being woken: ladders, messages that wait, every attempt, and the phones that subscribed. */
export const waking: Migration = {
  version: 2,
  sql: `
    CREATE TABLE ladder (
      fault_id TEXT PRIMARY KEY,
      changed_ms INTEGER NOT NULL,
      open INTEGER NOT NULL,
      body TEXT NOT NULL
    ) WITHOUT ROWID;
    CREATE INDEX ladder_open ON ladder (changed_ms) WHERE open = 1;
    CREATE INDEX ladder_by_time ON ladder (changed_ms);

    -- Who was called and who answered what, in the journal's one sequence; only ever appended.
    CREATE TABLE waking_entry (
      sequence INTEGER PRIMARY KEY,
      at_ms INTEGER NOT NULL,
      recorded_ms INTEGER NOT NULL,
      fault_id TEXT NOT NULL,
      place_id TEXT NOT NULL,
      by TEXT NOT NULL,
      body TEXT NOT NULL
    );
    CREATE INDEX waking_entry_by_fault ON waking_entry (fault_id, sequence);
    CREATE INDEX waking_entry_by_time ON waking_entry (at_ms);

    -- One message to one person by one way. The key names the call, the person and the way: the same is never made twice.
    CREATE TABLE outbox (
      id INTEGER PRIMARY KEY,
      key TEXT NOT NULL UNIQUE,
      fault_id TEXT NOT NULL,
      label TEXT NOT NULL,
      person_id TEXT NOT NULL,
      way TEXT NOT NULL,
      is_call INTEGER NOT NULL,
      priority TEXT NOT NULL,
      harm_ms INTEGER,
      made_ms INTEGER NOT NULL,
      next_ms INTEGER NOT NULL,
      expires_ms INTEGER NOT NULL,
      attempts INTEGER NOT NULL DEFAULT 0,
      -- An attempt that has begun and of whose end nothing is known yet.
      begun_ms INTEGER,
      state TEXT NOT NULL DEFAULT 'waiting',
      settled_ms INTEGER,
      sent_as TEXT,
      body TEXT NOT NULL
    );
    CREATE INDEX outbox_waiting ON outbox (next_ms) WHERE state = 'waiting';
    CREATE INDEX outbox_by_fault ON outbox (fault_id);
    CREATE INDEX outbox_sent ON outbox (person_id, way, settled_ms) WHERE state = 'sent';

    -- Only ever appended: begun, then how it ended.
    CREATE TABLE attempt (
      id INTEGER PRIMARY KEY,
      message_id INTEGER NOT NULL REFERENCES outbox (id),
      at_ms INTEGER NOT NULL,
      outcome TEXT NOT NULL,
      detail TEXT
    );
    CREATE INDEX attempt_by_message ON attempt (message_id);

    CREATE TABLE push_subscription (
      endpoint TEXT PRIMARY KEY,
      person_id TEXT NOT NULL,
      p256dh TEXT NOT NULL,
      auth TEXT NOT NULL,
      device TEXT NOT NULL,
      made_ms INTEGER NOT NULL,
      ended_ms INTEGER,
      ended_why TEXT
    ) WITHOUT ROWID;
  `,
};
