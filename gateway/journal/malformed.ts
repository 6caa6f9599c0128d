import type { Database } from './database.js';
import type { MalformedMessage } from './landing.js';

/** A kept message that could not be understood: the start of its payload, and how long it was. */
export type KeptMalformed = Omit<MalformedMessage, 'payload' | 'bytes'> & {
  readonly start: Uint8Array;
  readonly bytes: number;
};

export type Malformed = {
  keep(message: MalformedMessage): void;
  /** Forgets all but the newest `KEPT_MESSAGES`; the counts stay for ever. */
  trim(): void;
  newest(atMost: number, board?: string): readonly KeptMalformed[];
  /** Messages since the journal began, by board; those of no board under ''. */
  counts(): ReadonlyMap<string, number>;
};

export const KEPT_MESSAGES = 1_000;
export const KEPT_BYTES = 4_096;

type Row = {
  readonly at_ms: number;
  readonly topic: string;
  readonly board: string | null;
  readonly code: string;
  readonly parameters: string;
  readonly start: Buffer;
  readonly bytes: number;
};

export const buildMalformed = (database: Database): Malformed => {
  const insert = database.prepare<[number, string, string | null, string, string, Uint8Array, number]>(
    'INSERT INTO malformed (at_ms, topic, board, code, parameters, start, bytes) VALUES (?, ?, ?, ?, ?, ?, ?)',
  );
  const count = database.prepare<[string]>(
    `INSERT INTO malformed_count (board, messages) VALUES (?, 1)
     ON CONFLICT (board) DO UPDATE SET messages = messages + 1`,
  );
  const trim = database.prepare<[number]>(
    'DELETE FROM malformed WHERE id <= (SELECT coalesce(max(id), 0) FROM malformed) - ?',
  );
  const newest = database.prepare<[number], Row>('SELECT * FROM malformed ORDER BY id DESC LIMIT ?');
  const ofBoard = database.prepare<[string, number], Row>(
    'SELECT * FROM malformed WHERE board = ? ORDER BY id DESC LIMIT ?',
  );
  const counts = database.prepare<[], { readonly board: string; readonly messages: number }>(
    'SELECT board, messages FROM malformed_count ORDER BY board',
  );
  return {
    keep: ({ atMs, topic, board, code, parameters, payload, bytes = payload.length }) => {
      const start = payload.subarray(0, KEPT_BYTES);
      insert.run(atMs, topic, board ?? null, code, JSON.stringify(parameters), start, bytes);
      count.run(board ?? '');
    },
    trim: () => {
      trim.run(KEPT_MESSAGES);
    },
    newest: (atMost, board) =>
      (board === undefined ? newest.all(atMost) : ofBoard.all(board, atMost)).map(messageFromRow),
    counts: () => new Map(counts.all().map(({ board, messages }) => [board, messages])),
  };
};

const messageFromRow = (row: Row): KeptMalformed => ({
  atMs: row.at_ms,
  topic: row.topic,
  ...(row.board === null ? {} : { board: row.board }),
  code: row.code,
  parameters: JSON.parse(row.parameters) as KeptMalformed['parameters'],
  start: row.start,
  bytes: row.bytes,
});
