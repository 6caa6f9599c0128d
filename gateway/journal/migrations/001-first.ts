import type { Migration } from './migration.js';

/** The first layout. Released migrations are never edited: a change is a further file. */
export const firstLayout: Migration = {
  version: 1,
  sql: `
    CREATE TABLE meta (key TEXT PRIMARY KEY, value TEXT NOT NULL) WITHOUT ROWID;

    CREATE TABLE source (
      id INTEGER PRIMARY KEY,
      key TEXT NOT NULL UNIQUE,
      topic TEXT NOT NULL,
      pointer TEXT,
      board TEXT,
      stated_unit TEXT,
      first_seen_ms INTEGER NOT NULL
    );

    -- Clustered by source and time: one channel's month is read from neighbouring pages. delay = arrival - device.
    CREATE TABLE reading (
      source_id INTEGER NOT NULL,
      device_ms INTEGER NOT NULL,
      variant INTEGER NOT NULL,
      delay_ms INTEGER NOT NULL,
      raw REAL NOT NULL,
      flags INTEGER NOT NULL,
      refused_ms INTEGER,
      PRIMARY KEY (source_id, device_ms, variant)
    ) WITHOUT ROWID;

    -- What came after the last snapshot, group by group in landing order; emptied by the next snapshot.
    CREATE TABLE tail (landing INTEGER PRIMARY KEY, readings BLOB NOT NULL);

    CREATE TABLE snapshot (
      id INTEGER PRIMARY KEY CHECK (id = 1),
      landing INTEGER NOT NULL,
      at_ms INTEGER NOT NULL,
      version INTEGER NOT NULL,
      sequence INTEGER NOT NULL,
      body TEXT NOT NULL
    );

    -- In raw units over usable readings. hour = whole hours since 1970 UTC. An hour in dirty_hour is read from its rows.
    CREATE TABLE hour (
      source_id INTEGER NOT NULL,
      hour INTEGER NOT NULL,
      usable INTEGER NOT NULL,
      out_of_water INTEGER NOT NULL,
      not_plausible INTEGER NOT NULL,
      fault_value INTEGER NOT NULL,
      sum REAL NOT NULL,
      least REAL,
      greatest REAL,
      first_ms INTEGER NOT NULL,
      last_ms INTEGER NOT NULL,
      PRIMARY KEY (source_id, hour)
    ) WITHOUT ROWID;
    CREATE TABLE dirty_hour (
      source_id INTEGER NOT NULL,
      hour INTEGER NOT NULL,
      PRIMARY KEY (source_id, hour)
    ) WITHOUT ROWID;

    -- From from_ms on the source is this channel (null: none), until its next row. Of equal from_ms the later recorded rules.
    CREATE TABLE mapping (
      sequence INTEGER PRIMARY KEY,
      source_id INTEGER NOT NULL REFERENCES source (id),
      from_ms INTEGER NOT NULL,
      channel_id TEXT,
      unit TEXT,
      ruling INTEGER,
      period_ms INTEGER,
      recorded_ms INTEGER NOT NULL,
      by TEXT NOT NULL
    );
    CREATE TABLE calibration (
      sequence INTEGER PRIMARY KEY,
      source_id INTEGER NOT NULL REFERENCES source (id),
      from_ms INTEGER NOT NULL,
      slope REAL NOT NULL,
      offset REAL NOT NULL,
      recorded_ms INTEGER NOT NULL,
      by TEXT
    );

    -- A null body is a deletion.
    CREATE TABLE setting (
      sequence INTEGER PRIMARY KEY,
      entity TEXT NOT NULL,
      id TEXT NOT NULL,
      version INTEGER NOT NULL,
      effective_ms INTEGER NOT NULL,
      recorded_ms INTEGER NOT NULL,
      by TEXT NOT NULL,
      body TEXT,
      UNIQUE (entity, id, version)
    );

    CREATE TABLE alarm_change (
      sequence INTEGER PRIMARY KEY,
      alarm_id TEXT NOT NULL,
      at_ms INTEGER NOT NULL,
      event TEXT NOT NULL,
      by TEXT,
      body TEXT NOT NULL
    );
    CREATE INDEX alarm_change_by_alarm ON alarm_change (alarm_id, sequence);
    -- The newest state of each alarm, kept beside its changes so that the open ones are found at once.
    CREATE TABLE alarm (
      id TEXT PRIMARY KEY,
      sequence INTEGER NOT NULL,
      open INTEGER NOT NULL,
      activated_ms INTEGER NOT NULL,
      changed_ms INTEGER NOT NULL,
      body TEXT NOT NULL
    ) WITHOUT ROWID;
    CREATE INDEX alarm_open ON alarm (activated_ms) WHERE open = 1;
    CREATE INDEX alarm_by_time ON alarm (activated_ms);

    CREATE TABLE log_entry (
      sequence INTEGER PRIMARY KEY,
      id TEXT NOT NULL UNIQUE,
      at_ms INTEGER NOT NULL,
      recorded_ms INTEGER NOT NULL,
      kind TEXT NOT NULL,
      place_id TEXT,
      by TEXT NOT NULL,
      body TEXT NOT NULL
    );
    CREATE INDEX log_entry_by_time ON log_entry (at_ms);
    CREATE INDEX log_entry_by_place ON log_entry (place_id, at_ms);

    CREATE TABLE malformed (
      id INTEGER PRIMARY KEY,
      at_ms INTEGER NOT NULL,
      topic TEXT NOT NULL,
      board TEXT,
      code TEXT NOT NULL,
      parameters TEXT NOT NULL,
      start BLOB NOT NULL,
      bytes INTEGER NOT NULL
    );
    CREATE TABLE malformed_count (board TEXT PRIMARY KEY, messages INTEGER NOT NULL) WITHOUT ROWID;

    CREATE TABLE packet (packet_id INTEGER PRIMARY KEY, fingerprint TEXT NOT NULL);

    CREATE TABLE board_change (
      board TEXT NOT NULL,
      at_ms INTEGER NOT NULL,
      state TEXT NOT NULL,
      PRIMARY KEY (board, at_ms)
    ) WITHOUT ROWID;
    CREATE TABLE link_change (id INTEGER PRIMARY KEY, at_ms INTEGER NOT NULL, broker TEXT NOT NULL, reason TEXT);
    CREATE INDEX link_change_by_time ON link_change (at_ms);
    CREATE TABLE gateway_run (id INTEGER PRIMARY KEY, start_ms INTEGER NOT NULL, alive_ms INTEGER NOT NULL);

    CREATE TABLE account (
      name TEXT PRIMARY KEY,
      hash TEXT NOT NULL,
      role TEXT NOT NULL,
      created_ms INTEGER NOT NULL
    ) WITHOUT ROWID;
    CREATE TABLE token (
      name TEXT PRIMARY KEY,
      hash TEXT NOT NULL UNIQUE,
      role TEXT NOT NULL,
      created_ms INTEGER NOT NULL,
      last_used_ms INTEGER,
      revoked_ms INTEGER
    ) WITHOUT ROWID;
    CREATE TABLE session (
      hash TEXT PRIMARY KEY,
      account TEXT NOT NULL REFERENCES account (name) ON DELETE CASCADE,
      created_ms INTEGER NOT NULL,
      expires_ms INTEGER NOT NULL
    ) WITHOUT ROWID;
  `,
};
