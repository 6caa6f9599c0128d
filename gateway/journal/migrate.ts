import type { Database } from './database.js';
import { MIGRATIONS } from './migrations/list.js';
import type { Migration } from './migrations/migration.js';

/** Takes the steps that are missing, each whole or not at all. */
export const migrate = (database: Database, steps: readonly Migration[] = MIGRATIONS): void => {
  const found = layoutVersion(database);
  for (const { version, sql } of steps) {
    if (version <= found) continue;
    database.transaction(() => {
      database.exec(sql);
      database.pragma(`user_version = ${version}`);
    })();
  }
};

export const layoutVersion = (database: Database): number => Number(database.pragma('user_version', { simple: true }));
