import type { Role } from '../../rules/wire/api.js';
import type { Database } from './database.js';

/** A named key for a program or a wall. Only its hash is kept. */
export type Token = {
  readonly name: string;
  readonly hash: string;
  readonly role: Role;
  readonly createdMs: number;
  readonly lastUsedMs?: number;
  readonly revokedMs?: number;
};

export type Tokens = {
  /** False when a token of this name is there already. */
  add(token: Pick<Token, 'name' | 'hash' | 'role' | 'createdMs'>): boolean;
  /** The token that may still be used. */
  byHash(hash: string): Token | undefined;
  used(name: string, nowMs: number): void;
  revoke(name: string, nowMs: number): boolean;
  list(): readonly Token[];
};

type Row = {
  readonly name: string;
  readonly hash: string;
  readonly role: Role;
  readonly created_ms: number;
  readonly last_used_ms: number | null;
  readonly revoked_ms: number | null;
};

export const buildTokens = (database: Database): Tokens => {
  const insert = database.prepare<[string, string, string, number]>(
    'INSERT INTO token (name, hash, role, created_ms) VALUES (?, ?, ?, ?) ON CONFLICT (name) DO NOTHING',
  );
  const byHash = database.prepare<[string], Row>('SELECT * FROM token WHERE hash = ? AND revoked_ms IS NULL');
  const used = database.prepare<[number, string]>('UPDATE token SET last_used_ms = ? WHERE name = ?');
  const revoke = database.prepare<[number, string]>(
    'UPDATE token SET revoked_ms = ? WHERE name = ? AND revoked_ms IS NULL',
  );
  const list = database.prepare<[], Row>('SELECT * FROM token ORDER BY name');
  return {
    add: ({ name, hash, role, createdMs }) => insert.run(name, hash, role, createdMs).changes === 1,
    byHash: (hash) => {
      const row = byHash.get(hash);
      return row === undefined ? undefined : tokenFromRow(row);
    },
    used: (name, nowMs) => {
      used.run(nowMs, name);
    },
    revoke: (name, nowMs) => revoke.run(nowMs, name).changes === 1,
    list: () => list.all().map(tokenFromRow),
  };
};

const tokenFromRow = (row: Row): Token => ({
  name: row.name,
  hash: row.hash,
  role: row.role,
  createdMs: row.created_ms,
  ...(row.last_used_ms === null ? {} : { lastUsedMs: row.last_used_ms }),
  ...(row.revoked_ms === null ? {} : { revokedMs: row.revoked_ms }),
});
