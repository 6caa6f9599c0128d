import type { AlarmPicture } from '../../rules/alarm/alarm.js';
import type { Change } from '../../rules/wire/feed.js';
import type { Database } from './database.js';

/** One growing number over alarms, log and settings: a screen that was away asks for everything after the last it saw. */
export type Sequence = {
  /** Writes one change under the next number and returns it; a write that throws uses none up. */
  take(write: (sequence: number) => void): number;
  newest(): number;
  /** Every change after `sequence`, oldest first, `atMost` of them. */
  changesSince(sequence: number, atMost?: number): readonly Change[];
  /** Reads the newest number again, after a transaction was rolled back. */
  reload(): void;
};

type Row = {
  readonly sequence: number;
  readonly at_ms: number;
  readonly kind: Change['kind'];
  readonly what: string;
  readonly by: string | null;
};

const CHANGES = `
  SELECT sequence, at_ms, 'alarm' AS kind, body AS what, by FROM alarm_change WHERE sequence > :since
  UNION ALL SELECT sequence, recorded_ms, 'settings', entity || '/' || id, by FROM setting WHERE sequence > :since
  UNION ALL SELECT sequence, recorded_ms, 'settings', 'mapping/' || source_id, by FROM mapping WHERE sequence > :since
  UNION ALL SELECT sequence, recorded_ms, 'settings', 'calibration/' || source_id, by FROM calibration WHERE sequence > :since
  UNION ALL SELECT sequence, recorded_ms, 'log', id, by FROM log_entry WHERE sequence > :since
  UNION ALL SELECT sequence, recorded_ms, 'waking', fault_id, by FROM waking_entry WHERE sequence > :since
  ORDER BY sequence LIMIT :atMost`;

const NEWEST = `
  SELECT max(
    coalesce((SELECT max(sequence) FROM alarm_change), 0),
    coalesce((SELECT max(sequence) FROM setting), 0),
    coalesce((SELECT max(sequence) FROM mapping), 0),
    coalesce((SELECT max(sequence) FROM calibration), 0),
    coalesce((SELECT max(sequence) FROM log_entry), 0),
    coalesce((SELECT max(sequence) FROM waking_entry), 0))`;

const ALL = -1;

export const buildSequence = (database: Database): Sequence => {
  const changes = database.prepare<{ since: number; atMost: number }, Row>(CHANGES);
  const stored = database.prepare<[], number>(NEWEST).pluck();
  let newest = stored.get() ?? 0;
  return {
    take: (write) => {
      write(newest + 1);
      newest += 1;
      return newest;
    },
    newest: () => newest,
    changesSince: (since, atMost = ALL) => changes.all({ since, atMost }).map(changeFromRow),
    reload: () => {
      newest = stored.get() ?? 0;
    },
  };
};

const changeFromRow = ({ sequence, at_ms: atMs, kind, what, by }: Row): Change => {
  switch (kind) {
    case 'alarm':
      return { sequence, atMs, kind, alarm: JSON.parse(what) as AlarmPicture };
    case 'settings':
      return { sequence, atMs, kind, what, by: by ?? '' };
    case 'log':
      return { sequence, atMs, kind, entryId: what };
    case 'waking':
      return { sequence, atMs, kind, faultId: what };
  }
};
