import type { Database } from './database.js';

/** The engine's state as of one landing. Only the newest is kept. */
export type Snapshot = {
  readonly landing: number;
  readonly atMs: number;
  /** Of the engine's state; another version is rebuilt from kept readings. */
  readonly version: number;
  /** Newest journal sequence in it. */
  readonly sequence: number;
  readonly body: string;
};

export type Snapshots = {
  save(snapshot: Snapshot): void;
  newest(): Snapshot | undefined;
};

type Row = {
  readonly landing: number;
  readonly at_ms: number;
  readonly version: number;
  readonly sequence: number;
  readonly body: string;
};

export const buildSnapshots = (database: Database): Snapshots => {
  const save = database.prepare<[number, number, number, number, string]>(
    'INSERT OR REPLACE INTO snapshot (id, landing, at_ms, version, sequence, body) VALUES (1, ?, ?, ?, ?, ?)',
  );
  const newest = database.prepare<[], Row>('SELECT landing, at_ms, version, sequence, body FROM snapshot');
  return {
    save: ({ landing, atMs, version, sequence, body }) => {
      save.run(landing, atMs, version, sequence, body);
    },
    newest: () => {
      const row = newest.get();
      if (row === undefined) return undefined;
      const { landing, at_ms: atMs, version, sequence, body } = row;
      return { landing, atMs, version, sequence, body };
    },
  };
};
