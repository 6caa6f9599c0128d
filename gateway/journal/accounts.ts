import type { Role } from '../../rules/wire/api.js';
import type { Database } from './database.js';

/** Somebody who may sign in. `hash` is an argon2 string made by the caller; the journal never sees a password. */
export type Account = {
  readonly name: string;
  readonly hash: string;
  readonly role: Role;
  readonly createdMs: number;
};

export type Accounts = {
  /** Adds the account, or gives an existing one another hash and role. */
  put(account: Account): void;
  byName(name: string): Account | undefined;
  list(): readonly Account[];
  /** Also ends the account's sessions. */
  remove(name: string): boolean;
};

type Row = { readonly name: string; readonly hash: string; readonly role: Role; readonly created_ms: number };

export const buildAccounts = (database: Database): Accounts => {
  const upsert = database.prepare<[string, string, string, number]>(
    `INSERT INTO account (name, hash, role, created_ms) VALUES (?, ?, ?, ?)
     ON CONFLICT (name) DO UPDATE SET hash = excluded.hash, role = excluded.role`,
  );
  const byName = database.prepare<[string], Row>('SELECT * FROM account WHERE name = ?');
  const list = database.prepare<[], Row>('SELECT * FROM account ORDER BY name');
  const remove = database.prepare<[string]>('DELETE FROM account WHERE name = ?');
  return {
    put: ({ name, hash, role, createdMs }) => {
      upsert.run(name, hash, role, createdMs);
    },
    byName: (name) => {
      const row = byName.get(name);
      return row === undefined ? undefined : accountFromRow(row);
    },
    list: () => list.all().map(accountFromRow),
    remove: (name) => remove.run(name).changes === 1,
  };
};

const accountFromRow = ({ name, hash, role, created_ms: createdMs }: Row): Account => ({ name, hash, role, createdMs });
