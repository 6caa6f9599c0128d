import { fault, ok, type Result } from '../../rules/result.js';
import type { Versioned } from '../../rules/wire/api.js';
import type { Change } from '../../rules/wire/feed.js';
import type { Database } from './database.js';
import type { Sequence } from './sequence.js';

/** One dated row of what a person set; a null body is a deletion. */
export type Setting<T = unknown> = Versioned<T | null> & {
  readonly sequence: number;
  readonly entity: string;
  readonly id: string;
  readonly by: string;
};

export type NewSetting = {
  readonly entity: string;
  readonly id: string;
  /** From when it rules; may lie before the recording, or after it. */
  readonly effectiveMs: number;
  readonly recordedMs: number;
  readonly by: string;
  readonly body: unknown;
  /** The version that the person saw (If-Match); 0 for what is not there yet. */
  readonly expectedVersion: number;
};

/** Somebody else wrote in between; the row as it is now, undefined when there is none at all. */
export type SettingConflict = { readonly code: 'conflict'; readonly present: Setting | undefined };

export type Settings = {
  put(setting: NewSetting): Result<{ readonly setting: Setting; readonly change: Change }, SettingConflict>;
  /** The row that rules at a moment: of those effective by then the latest effective, of equal ones the latest recorded. */
  ruling(entity: string, id: string, atMs: number): Setting | undefined;
  /** The ruling row of every id of an entity at a moment, deleted ones left out. */
  allRuling(entity: string, atMs: number): readonly Setting[];
  /** What is deleted at a moment: the row that says so, and the last one before it. */
  retired(entity: string, atMs: number): readonly { readonly gone: Setting; readonly before: Setting }[];
  /** The row last recorded, whenever it rules: what the next write has to name. */
  latest(entity: string, id: string): Setting | undefined;
  /** Every row of one thing, oldest version first. */
  history(entity: string, id: string): readonly Setting[];
};

type Row = {
  readonly sequence: number;
  readonly entity: string;
  readonly id: string;
  readonly version: number;
  readonly effective_ms: number;
  readonly recorded_ms: number;
  readonly by: string;
  readonly body: string | null;
};

export const buildSettings = (database: Database, sequence: Sequence): Settings => {
  const statements = prepareStatements(database);
  const latest = (entity: string, id: string) => settingFrom(statements.latest.get(entity, id));

  const put: Settings['put'] = (wanted) => {
    const present = latest(wanted.entity, wanted.id);
    if ((present?.version ?? 0) !== wanted.expectedVersion) return fault({ code: 'conflict', present });
    const { entity, id, effectiveMs, recordedMs, by } = wanted;
    const body = wanted.body === undefined || wanted.body === null ? null : JSON.stringify(wanted.body);
    const version = wanted.expectedVersion + 1;
    const number = sequence.take((next) =>
      statements.insert.run(next, entity, id, version, effectiveMs, recordedMs, by, body),
    );
    return ok({
      setting: { sequence: number, entity, id, version, effectiveMs, recordedMs, by, body: wanted.body ?? null },
      change: { sequence: number, atMs: recordedMs, kind: 'settings', what: `${entity}/${id}`, by },
    });
  };

  return {
    put: (wanted) => database.transaction(() => put(wanted)).immediate(),
    ruling: (entity, id, atMs) => settingFrom(statements.ruling.get(entity, id, atMs)),
    allRuling: (entity, atMs) =>
      statements.ids.all(entity).flatMap((id) => {
        const row = statements.ruling.get(entity, id, atMs);
        return row === undefined || row.body === null ? [] : [settingFromRow(row)];
      }),
    retired: (entity, atMs) =>
      statements.ids.all(entity).flatMap((id) => {
        const gone = statements.ruling.get(entity, id, atMs);
        if (gone === undefined || gone.body !== null) return [];
        const before = statements.history
          .all(entity, id)
          .findLast((row) => row.body !== null && row.version < gone.version);
        return before === undefined ? [] : [{ gone: settingFromRow(gone), before: settingFromRow(before) }];
      }),
    latest,
    history: (entity, id) => statements.history.all(entity, id).map(settingFromRow),
  };
};

const prepareStatements = (database: Database) => ({
  insert: database.prepare<[number, string, string, number, number, number, string, string | null]>(
    `INSERT INTO setting (sequence, entity, id, version, effective_ms, recorded_ms, by, body)
     VALUES (?, ?, ?, ?, ?, ?, ?, ?)`,
  ),
  latest: database.prepare<[string, string], Row>(
    'SELECT * FROM setting WHERE entity = ? AND id = ? ORDER BY version DESC LIMIT 1',
  ),
  ruling: database.prepare<[string, string, number], Row>(
    `SELECT * FROM setting WHERE entity = ? AND id = ? AND effective_ms <= ?
     ORDER BY effective_ms DESC, version DESC LIMIT 1`,
  ),
  ids: database.prepare<[string], string>('SELECT DISTINCT id FROM setting WHERE entity = ? ORDER BY id').pluck(),
  history: database.prepare<[string, string], Row>(
    'SELECT * FROM setting WHERE entity = ? AND id = ? ORDER BY version',
  ),
});

const settingFrom = (row: Row | undefined): Setting | undefined =>
  row === undefined ? undefined : settingFromRow(row);

const settingFromRow = (row: Row): Setting => ({
  sequence: row.sequence,
  entity: row.entity,
  id: row.id,
  version: row.version,
  effectiveMs: row.effective_ms,
  recordedMs: row.recorded_ms,
  by: row.by,
  body: row.body === null ? null : (JSON.parse(row.body) as unknown),
});
