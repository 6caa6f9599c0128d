import type { FaultVerb } from '../../rules/alerts/answer.js';
import type { CallKind } from '../../rules/alerts/ladder.js';
import type { Way } from '../../rules/alerts/person.js';
import type { Change } from '../../rules/wire/feed.js';
import type { Database } from './database.js';
import type { Sequence } from './sequence.js';

/** What is written down of a waking: a call, or what somebody answered. People by id and, as they were called then, name. */
export type WakingDeed =
  | {
      readonly what: 'call';
      readonly kind: CallKind;
      readonly label: string;
      readonly to: readonly string[];
      readonly names: readonly string[];
      readonly ways: readonly Way[];
      readonly messages: number;
    }
  | {
      readonly what: 'answer';
      readonly verb: FaultVerb;
      readonly personId: string;
      readonly minutes?: number;
      readonly to?: string;
    }
  /** The morning's question. */
  | { readonly what: 'judged'; readonly real: boolean }
  /** A test call was sent by these ways. */
  | { readonly what: 'drilled'; readonly personId: string; readonly ways: readonly Way[] }
  | { readonly what: 'drill'; readonly personId: string; readonly way: Way; readonly wakes: 'yes' | 'no' | 'not-tried' }
  /** Harm that nobody was woken for. */
  | { readonly what: 'missed'; readonly remark: string };

export type WakingEntry = {
  readonly atMs: number;
  readonly recordedMs: number;
  readonly faultId: string;
  readonly placeId: string;
  readonly by: string;
  readonly deed: WakingDeed;
};

/** Only ever appended. */
export type Wakings = {
  add(entry: WakingEntry): Change;
  ofFault(faultId: string): readonly WakingEntry[];
  /** The start of the span included and its end not, in journal order. */
  between(fromMs: number, toMs: number): readonly WakingEntry[];
};

type Row = {
  readonly at_ms: number;
  readonly recorded_ms: number;
  readonly fault_id: string;
  readonly place_id: string;
  readonly by: string;
  readonly body: string;
};

const entryFromRow = (row: Row): WakingEntry => ({
  atMs: row.at_ms,
  recordedMs: row.recorded_ms,
  faultId: row.fault_id,
  placeId: row.place_id,
  by: row.by,
  deed: JSON.parse(row.body) as WakingDeed,
});

export const buildWakings = (database: Database, sequence: Sequence): Wakings => {
  const insert = database.prepare<[number, number, number, string, string, string, string]>(
    'INSERT INTO waking_entry (sequence, at_ms, recorded_ms, fault_id, place_id, by, body) VALUES (?, ?, ?, ?, ?, ?, ?)',
  );
  const ofFault = database.prepare<[string], Row>('SELECT * FROM waking_entry WHERE fault_id = ? ORDER BY sequence');
  const between = database.prepare<[number, number], Row>(
    'SELECT * FROM waking_entry WHERE at_ms >= ? AND at_ms < ? ORDER BY sequence',
  );
  return {
    add: ({ atMs, recordedMs, faultId, placeId, by, deed }) => {
      const number = sequence.take((next) =>
        insert.run(next, atMs, recordedMs, faultId, placeId, by, JSON.stringify(deed)),
      );
      return { sequence: number, atMs: recordedMs, kind: 'waking', faultId };
    },
    ofFault: (faultId) => ofFault.all(faultId).map(entryFromRow),
    between: (fromMs, toMs) => between.all(fromMs, toMs).map(entryFromRow),
  };
};
