import type { Mapping } from '../../rules/hatchery.js';
import type { Change } from '../../rules/wire/feed.js';
import type { Database } from './database.js';
import type { Sequence } from './sequence.js';

export type NewMapping = Omit<Mapping, 'toMs'>;

/**
 * What each source meant, when. Rows are only appended: one says that from its time on the source is a channel, or none,
 * until the source's next row; of two for the same time the one recorded later rules.
 */
export type Mappings = {
  name(mapping: NewMapping, by: string, nowMs: number): Change;
  /** From `fromMs` on the source is no channel. */
  release(sourceId: number, fromMs: number, by: string, nowMs: number): Change;
  /** With `toMs` where something follows, by source and time. */
  list(): readonly Mapping[];
};

type Row = {
  readonly source_id: number;
  readonly from_ms: number;
  readonly channel_id: string | null;
  readonly unit: string | null;
  readonly ruling: number | null;
  readonly period_ms: number | null;
};

export const buildMappings = (database: Database, sequence: Sequence): Mappings => {
  const insert = database.prepare(
    `INSERT INTO mapping (sequence, source_id, from_ms, channel_id, unit, ruling, period_ms, recorded_ms, by)
     VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)`,
  );
  const list = prepareMappings(database);
  const changed = (number: number, sourceId: number, by: string, nowMs: number): Change => ({
    sequence: number,
    atMs: nowMs,
    kind: 'settings',
    what: `mapping/${sourceId}`,
    by,
  });
  return {
    name: ({ sourceId, channelId, unit, fromMs, ruling, periodMs }, by, nowMs) => {
      const number = sequence.take((next) =>
        insert.run([next, sourceId, fromMs, channelId, unit, ruling ? 1 : 0, periodMs ?? null, nowMs, by]),
      );
      return changed(number, sourceId, by, nowMs);
    },
    release: (sourceId, fromMs, by, nowMs) => {
      const number = sequence.take((next) => insert.run([next, sourceId, fromMs, null, null, null, null, nowMs, by]));
      return changed(number, sourceId, by, nowMs);
    },
    list,
  };
};

/** Also for the history's own connection. */
export const prepareMappings = (database: Database): (() => readonly Mapping[]) => {
  const all = database.prepare<[], Row>(
    `SELECT source_id, from_ms, channel_id, unit, ruling, period_ms FROM mapping
     WHERE sequence IN (SELECT max(sequence) FROM mapping GROUP BY source_id, from_ms) ORDER BY source_id, from_ms`,
  );
  return () => {
    const rows = all.all();
    return rows.flatMap((row, index) => mappingFromRow(row, rows[index + 1]));
  };
};

const mappingFromRow = (row: Row, following: Row | undefined): readonly Mapping[] => {
  if (row.channel_id === null || row.unit === null) return [];
  return [
    {
      sourceId: row.source_id,
      channelId: row.channel_id,
      unit: row.unit,
      fromMs: row.from_ms,
      ruling: row.ruling === 1,
      ...(following?.source_id === row.source_id ? { toMs: following.from_ms } : {}),
      ...(row.period_ms === null ? {} : { periodMs: row.period_ms }),
    },
  ];
};
