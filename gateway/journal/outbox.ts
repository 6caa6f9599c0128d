import type { Sent } from '../../rules/alerts/gather.js';
import type { Tried } from '../../rules/alerts/lack.js';
import type { Notice } from '../../rules/alerts/notice.js';
import type { Way } from '../../rules/alerts/person.js';
import type { Priority } from '../../rules/conditions/finding.js';
import type { Database } from './database.js';

/** One message to one person by one way. `notice` is as it was when it was decided. */
export type NewMessage = {
  readonly key: string;
  readonly faultId: string;
  readonly label: string;
  readonly personId: string;
  readonly way: Way;
  /** Meant to wake; else a quiet note. */
  readonly isCall: boolean;
  readonly priority: Priority;
  readonly harmMs?: number;
  readonly madeMs: number;
  readonly expiresMs: number;
  readonly notice: Notice;
};

export type MessageState = 'waiting' | 'sent' | 'dead' | 'dropped';

export type Message = NewMessage & {
  readonly id: number;
  readonly nextMs: number;
  readonly attempts: number;
  readonly state: MessageState;
  readonly settledMs?: number;
};

export type Attempt = {
  readonly messageId: number;
  readonly atMs: number;
  readonly outcome: string;
  readonly detail?: string;
};

/** Messages that wait, and every attempt to send them. A message leaves `waiting` once and never comes back. */
export type Outbox = {
  /** False when the very same was made before. */
  add(message: NewMessage): boolean;
  /** Waiting, due, oldest first. */
  due(nowMs: number): readonly Message[];
  waiting(): number;
  /** Before the first byte leaves: if we die now, it is known that it may have gone out. */
  begin(id: number, atMs: number): void;
  /** Accepted by the next hand; `as` a message of its own or part of a summary. */
  sent(id: number, atMs: number, as: 'single' | 'flood', detail?: string): void;
  /** To be tried again. */
  later(id: number, atMs: number, nextMs: number, outcome: string, detail?: string): void;
  /** Not to be tried again. */
  end(id: number, atMs: number, state: 'dead' | 'dropped', outcome: string, detail?: string): void;
  /** Not sent before then; no attempt. */
  hold(id: number, nextMs: number): void;
  /** Calls of a fault that wait are of no use any more. */
  dropCalls(faultId: string, atMs: number, because: string): void;
  /** What a person was sent by a way since then. */
  sentTo(personId: string, way: Way, sinceMs: number): readonly Sent[];
  byFault(faultId: string): readonly Message[];
  attemptsOf(messageId: number): readonly Attempt[];
  /** Every finished try since then, the oldest first; what was only dropped was none. */
  tries(sinceMs: number): readonly Tried[];
  /** The clock was set back by so much: what waits moves with it. */
  shift(backMs: number): void;
  /** After a start: what had begun and never ended waits until a minute after its beginning. */
  recover(afterMs: number): number;
};

type Row = {
  readonly id: number;
  readonly key: string;
  readonly fault_id: string;
  readonly label: string;
  readonly person_id: string;
  readonly way: Way;
  readonly is_call: number;
  readonly priority: Priority;
  readonly harm_ms: number | null;
  readonly made_ms: number;
  readonly next_ms: number;
  readonly expires_ms: number;
  readonly attempts: number;
  readonly state: MessageState;
  readonly settled_ms: number | null;
  readonly body: string;
};

const messageFromRow = (row: Row): Message => ({
  id: row.id,
  key: row.key,
  faultId: row.fault_id,
  label: row.label,
  personId: row.person_id,
  way: row.way,
  isCall: row.is_call === 1,
  priority: row.priority,
  ...(row.harm_ms === null ? {} : { harmMs: row.harm_ms }),
  madeMs: row.made_ms,
  nextMs: row.next_ms,
  expiresMs: row.expires_ms,
  attempts: row.attempts,
  state: row.state,
  ...(row.settled_ms === null ? {} : { settledMs: row.settled_ms }),
  notice: JSON.parse(row.body) as Notice,
});

const MOST_DUE = 1_000;
const MOST_TRIES = 400;
/** Written beside the tries, and no end of one. */
const NO_TRY = ['begun', 'settled', 'expired'];

export const buildOutbox = (database: Database): Outbox => {
  const write = prepareWrites(database);
  const read = prepareReads(database);
  const attempt = (id: number, atMs: number, outcome: string, detail?: string): void => {
    write.attempt.run(id, atMs, outcome, detail ?? null);
  };
  const settle = (
    id: number,
    atMs: number,
    state: MessageState,
    outcome: string,
    detail?: string,
    as?: string,
  ): void => {
    write.settle.run(state, atMs, as ?? null, id);
    attempt(id, atMs, outcome, detail);
  };
  return {
    add: (one) => {
      const { key, faultId, label, personId, way, isCall, priority, harmMs, madeMs, expiresMs } = one;
      const row = [
        key,
        faultId,
        label,
        personId,
        way,
        isCall ? 1 : 0,
        priority,
        harmMs ?? null,
        madeMs,
        madeMs,
        expiresMs,
        JSON.stringify(one.notice),
      ];
      return write.add.run(...row).changes === 1;
    },
    due: (nowMs) => read.due.all(nowMs, MOST_DUE).map(messageFromRow),
    waiting: () => read.waiting.get() ?? 0,
    begin: (id, atMs) => {
      write.begin.run(atMs, id);
      attempt(id, atMs, 'begun');
    },
    sent: (id, atMs, as, detail) => settle(id, atMs, 'sent', 'accepted', detail, as),
    later: (id, atMs, nextMs, outcome, detail) => {
      write.later.run(nextMs, id);
      attempt(id, atMs, outcome, detail);
    },
    end: settle,
    hold: (id, nextMs) => {
      write.hold.run(nextMs, id);
    },
    dropCalls: (faultId, atMs, because) => {
      for (const id of read.waitingCalls.all(faultId)) settle(id, atMs, 'dropped', because);
    },
    sentTo: (personId, way, sinceMs) =>
      read.sentTo
        .all(personId, way, sinceMs)
        .map(({ settled_ms: atMs, sent_as: as, fault_id: faultId }) =>
          as === 'flood' ? { atMs, kind: 'flood' } : { atMs, kind: 'single', faultId },
        ),
    byFault: (faultId) => read.byFault.all(faultId).map(messageFromRow),
    attemptsOf: (messageId) =>
      read.attempts.all(messageId).map(({ at_ms: atMs, outcome, detail }) => ({
        messageId,
        atMs,
        outcome,
        ...(detail === null ? {} : { detail }),
      })),
    tries: (sinceMs) =>
      read.tries
        .all(MOST_TRIES)
        .toReversed()
        .flatMap(({ way, at_ms: atMs, outcome }) => {
          if (atMs < sinceMs || NO_TRY.includes(outcome)) return [];
          return [{ way, atMs, ...(outcome === 'accepted' ? {} : { code: outcome }) }];
        }),
    shift: (backMs) => {
      write.shift.run({ backMs });
    },
    recover: (afterMs) => write.recover.run(afterMs).changes,
  };
};

const prepareWrites = (database: Database) => ({
  add: database.prepare<(string | number | null)[]>(
    `INSERT OR IGNORE INTO outbox
     (key, fault_id, label, person_id, way, is_call, priority, harm_ms, made_ms, next_ms, expires_ms, body)
     VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
  ),
  attempt: database.prepare<[number, number, string, string | null]>(
    'INSERT INTO attempt (message_id, at_ms, outcome, detail) VALUES (?, ?, ?, ?)',
  ),
  begin: database.prepare<[number, number]>('UPDATE outbox SET begun_ms = ? WHERE id = ?'),
  settle: database.prepare<[MessageState, number, string | null, number]>(
    `UPDATE outbox SET state = ?, settled_ms = ?, sent_as = ?, begun_ms = NULL, attempts = attempts + 1
     WHERE id = ? AND state = 'waiting'`,
  ),
  later: database.prepare<[number, number]>(
    `UPDATE outbox SET next_ms = ?, begun_ms = NULL, attempts = attempts + 1 WHERE id = ? AND state = 'waiting'`,
  ),
  hold: database.prepare<[number, number]>(`UPDATE outbox SET next_ms = ? WHERE id = ? AND state = 'waiting'`),
  shift: database.prepare<{ backMs: number }>(
    `UPDATE outbox SET next_ms = next_ms - :backMs, expires_ms = expires_ms - :backMs, begun_ms = begun_ms - :backMs
     WHERE state = 'waiting'`,
  ),
  recover: database.prepare<[number]>(
    `UPDATE outbox SET next_ms = max(next_ms, begun_ms + ?), begun_ms = NULL WHERE state = 'waiting' AND begun_ms IS NOT NULL`,
  ),
});

type SentRow = { readonly settled_ms: number; readonly sent_as: 'single' | 'flood'; readonly fault_id: string };
type TryRow = { readonly way: Way; readonly at_ms: number; readonly outcome: string };
type AttemptRow = { readonly at_ms: number; readonly outcome: string; readonly detail: string | null };

const prepareReads = (database: Database) => ({
  due: database.prepare<[number, number], Row>(
    `SELECT * FROM outbox WHERE state = 'waiting' AND next_ms <= ? ORDER BY next_ms, id LIMIT ?`,
  ),
  waiting: database.prepare<[], number>(`SELECT count(*) FROM outbox WHERE state = 'waiting'`).pluck(),
  waitingCalls: database
    .prepare<[string], number>(`SELECT id FROM outbox WHERE fault_id = ? AND state = 'waiting' AND is_call = 1`)
    .pluck(),
  sentTo: database.prepare<[string, string, number], SentRow>(
    `SELECT DISTINCT settled_ms, sent_as, CASE sent_as WHEN 'flood' THEN '' ELSE fault_id END AS fault_id FROM outbox
     WHERE person_id = ? AND way = ? AND state = 'sent' AND is_call = 1 AND settled_ms >= ? ORDER BY settled_ms`,
  ),
  byFault: database.prepare<[string], Row>('SELECT * FROM outbox WHERE fault_id = ? ORDER BY id'),
  attempts: database.prepare<[number], AttemptRow>(
    'SELECT at_ms, outcome, detail FROM attempt WHERE message_id = ? ORDER BY id',
  ),
  tries: database.prepare<[number], TryRow>(
    `SELECT o.way, a.at_ms, a.outcome FROM attempt a JOIN outbox o ON o.id = a.message_id ORDER BY a.id DESC LIMIT ?`,
  ),
});
