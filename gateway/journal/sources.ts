import type { Source } from '../../rules/hatchery.js';
import type { Database } from './database.js';
import { HOUR_MS } from './hour.js';
import type { StoredRows } from './stored-rows.js';

/** A source is given its number at first sight; the number is never reused. */
export type Sources = {
  /** The source of this key, kept now if it was never seen before. */
  ensure(source: Omit<Source, 'id'>): Source;
  byKey(key: string): Source | undefined;
  byId(id: number): Source | undefined;
  list(): readonly Source[];
  /** Readings kept so far: whole hours from their rollups, the others from their rows. */
  readingCount(id: number): number;
  reload(): void;
};

type Row = {
  readonly id: number;
  readonly key: string;
  readonly topic: string;
  readonly pointer: string | null;
  readonly board: string | null;
  readonly stated_unit: string | null;
  readonly first_seen_ms: number;
};

const COUNT_OF_HOURS = `
  SELECT coalesce(sum(usable + out_of_water + not_plausible + fault_value), 0) FROM hour
  WHERE source_id = :id AND hour NOT IN (SELECT hour FROM dirty_hour WHERE source_id = :id)`;

export const buildSources = (database: Database, rows: Pick<StoredRows, 'count'>): Sources => {
  const insert = database.prepare<[string, string, string | null, string | null, string | null, number]>(
    'INSERT INTO source (key, topic, pointer, board, stated_unit, first_seen_ms) VALUES (?, ?, ?, ?, ?, ?)',
  );
  const all = database.prepare<[], Row>('SELECT * FROM source ORDER BY id');
  const countOfHours = database.prepare<{ id: number }, number>(COUNT_OF_HOURS).pluck();
  const markedHours = database.prepare<[number], number>('SELECT hour FROM dirty_hour WHERE source_id = ?').pluck();
  const byKey = new Map<string, Source>();
  const byId = new Map<number, Source>();

  const remember = (source: Source): Source => {
    byKey.set(source.key, source);
    byId.set(source.id, source);
    return source;
  };
  const reload = (): void => {
    byKey.clear();
    byId.clear();
    for (const row of all.all()) remember(sourceFromRow(row));
  };
  reload();

  return {
    ensure: (source) => {
      const known = byKey.get(source.key);
      if (known !== undefined) return known;
      const { key, topic, pointer, board, statedUnit, firstSeenMs } = source;
      const kept = insert.run(key, topic, pointer ?? null, board ?? null, statedUnit ?? null, firstSeenMs);
      return remember({ ...source, id: Number(kept.lastInsertRowid) });
    },
    byKey: (key) => byKey.get(key),
    byId: (id) => byId.get(id),
    list: () => [...byId.values()],
    readingCount: (id) =>
      markedHours
        .all(id)
        .reduce(
          (sum, hour) => sum + rows.count(id, hour * HOUR_MS, (hour + 1) * HOUR_MS),
          countOfHours.get({ id }) ?? 0,
        ),
    reload,
  };
};

const sourceFromRow = (row: Row): Source => ({
  id: row.id,
  key: row.key,
  topic: row.topic,
  ...(row.pointer === null ? {} : { pointer: row.pointer }),
  ...(row.board === null ? {} : { board: row.board }),
  ...(row.stated_unit === null ? {} : { statedUnit: row.stated_unit }),
  firstSeenMs: row.first_seen_ms,
});
