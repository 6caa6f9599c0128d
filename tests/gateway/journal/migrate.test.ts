import BetterSqlite3 from 'better-sqlite3';
import { expect, test } from 'vitest';
import { layoutVersion, migrate } from '../../../gateway/journal/migrate.js';
import { MIGRATIONS } from '../../../gateway/journal/migrations/list.js';

const tables = (database: BetterSqlite3.Database) =>
  database.prepare<[], string>("SELECT name FROM sqlite_schema WHERE type = 'table' ORDER BY name").pluck().all();

test('the steps are numbered from one, without a gap', () => {
  expect(MIGRATIONS.map(({ version }) => version)).toEqual(MIGRATIONS.map((_, n) => n + 1));
});

test('only the steps that are missing are taken', () => {
  const database = new BetterSqlite3(':memory:');
  const first = { version: 1, sql: 'CREATE TABLE a (x)' };
  migrate(database, [first]);
  migrate(database, [first, { version: 2, sql: 'CREATE TABLE b (x)' }]);
  expect([layoutVersion(database), tables(database)]).toEqual([2, ['a', 'b']]);
});

test('a step that fails in the middle leaves the journal as it was before the step', () => {
  const database = new BetterSqlite3(':memory:');
  const steps = [
    { version: 1, sql: 'CREATE TABLE a (x)' },
    { version: 2, sql: 'CREATE TABLE b (x); CREATE TABLE a (x)' },
  ];
  expect(() => migrate(database, steps)).toThrow('already exists');
  expect([layoutVersion(database), tables(database)]).toEqual([1, ['a']]);
});
