import type { Change } from '../../rules/wire/feed.js';
import type { Database } from './database.js';
import type { Sequence } from './sequence.js';

/** What a person wrote down. The id is a ULID made where it was written, so that sending it twice keeps it once. */
export type LogEntry = {
  readonly id: string;
  /** When it happened, and when it reached the journal. */
  readonly atMs: number;
  readonly recordedMs: number;
  readonly kind: string;
  readonly placeId?: string;
  readonly by: string;
  /** Plain JSON; its meaning is in rules/husbandry. */
  readonly body: unknown;
};

export type Log = {
  /** Entries are only ever added; undefined when this id is here already. */
  add(entry: LogEntry): Change | undefined;
  byId(id: string): LogEntry | undefined;
  /** In order of happening, the start of the span included and its end not; of one place or of all. */
  between(fromMs: number, toMs: number, placeId?: string): readonly LogEntry[];
};

type Row = {
  readonly id: string;
  readonly at_ms: number;
  readonly recorded_ms: number;
  readonly kind: string;
  readonly place_id: string | null;
  readonly by: string;
  readonly body: string;
};

export const buildLog = (database: Database, sequence: Sequence): Log => {
  const insert = database.prepare<[number, string, number, number, string, string | null, string, string]>(
    `INSERT INTO log_entry (sequence, id, at_ms, recorded_ms, kind, place_id, by, body) VALUES (?, ?, ?, ?, ?, ?, ?, ?)`,
  );
  const byId = database.prepare<[string], Row>('SELECT * FROM log_entry WHERE id = ?');
  const between = database.prepare<[number, number], Row>(
    'SELECT * FROM log_entry WHERE at_ms >= ? AND at_ms < ? ORDER BY at_ms, sequence',
  );
  const atPlace = database.prepare<[string, number, number], Row>(
    'SELECT * FROM log_entry WHERE place_id = ? AND at_ms >= ? AND at_ms < ? ORDER BY at_ms, sequence',
  );
  return {
    add: ({ id, atMs, recordedMs, kind, placeId, by, body }) => {
      if (byId.get(id) !== undefined) return undefined;
      const number = sequence.take((next) =>
        insert.run(next, id, atMs, recordedMs, kind, placeId ?? null, by, JSON.stringify(body ?? null)),
      );
      return { sequence: number, atMs: recordedMs, kind: 'log', entryId: id };
    },
    byId: (id) => {
      const row = byId.get(id);
      return row === undefined ? undefined : entryFromRow(row);
    },
    between: (fromMs, toMs, placeId) =>
      (placeId === undefined ? between.all(fromMs, toMs) : atPlace.all(placeId, fromMs, toMs)).map(entryFromRow),
  };
};

const entryFromRow = (row: Row): LogEntry => ({
  id: row.id,
  atMs: row.at_ms,
  recordedMs: row.recorded_ms,
  kind: row.kind,
  by: row.by,
  ...(row.place_id === null ? {} : { placeId: row.place_id }),
  body: JSON.parse(row.body) as unknown,
});
