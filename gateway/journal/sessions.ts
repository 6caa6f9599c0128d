import type { Database } from './database.js';

/** Somebody signed in at a browser. Only the hash of the cookie is kept. */
export type Session = {
  readonly hash: string;
  readonly account: string;
  readonly createdMs: number;
  readonly expiresMs: number;
};

export type Sessions = {
  /** The account must exist. */
  add(session: Session): void;
  /** The session if it has not expired by `nowMs`. */
  byHash(hash: string, nowMs: number): Session | undefined;
  extend(hash: string, expiresMs: number): void;
  end(hash: string): void;
  endAllOf(account: string): void;
  dropExpired(nowMs: number): void;
};

type Row = {
  readonly hash: string;
  readonly account: string;
  readonly created_ms: number;
  readonly expires_ms: number;
};

export const buildSessions = (database: Database): Sessions => {
  const insert = database.prepare<[string, string, number, number]>(
    'INSERT INTO session (hash, account, created_ms, expires_ms) VALUES (?, ?, ?, ?)',
  );
  const byHash = database.prepare<[string, number], Row>('SELECT * FROM session WHERE hash = ? AND expires_ms > ?');
  const extend = database.prepare<[number, string]>('UPDATE session SET expires_ms = ? WHERE hash = ?');
  const end = database.prepare<[string]>('DELETE FROM session WHERE hash = ?');
  const endAllOf = database.prepare<[string]>('DELETE FROM session WHERE account = ?');
  const dropExpired = database.prepare<[number]>('DELETE FROM session WHERE expires_ms <= ?');
  return {
    add: ({ hash, account, createdMs, expiresMs }) => {
      insert.run(hash, account, createdMs, expiresMs);
    },
    byHash: (hash, nowMs) => {
      const row = byHash.get(hash, nowMs);
      if (row === undefined) return undefined;
      return { hash, account: row.account, createdMs: row.created_ms, expiresMs: row.expires_ms };
    },
    extend: (hash, expiresMs) => {
      extend.run(expiresMs, hash);
    },
    end: (hash) => {
      end.run(hash);
    },
    endAllOf: (account) => {
      endAllOf.run(account);
    },
    dropExpired: (nowMs) => {
      dropExpired.run(nowMs);
    },
  };
};
