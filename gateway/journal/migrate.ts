import { fault, ok, type Result } from '../../rules/result.js';
import type { JournalFault } from '../../rules/words/journal.js';
import type { Database } from './database.js';
import { MIGRATIONS } from './migrations/list.js';
import type { Migration } from './migrations/migration.js';

/** Takes the steps that are missing, each whole or not at all. A file from a newer program is refused untouched. */
export const migrate = (
  database: Database,
  steps: readonly Migration[] = MIGRATIONS,
): Result<{ readonly version: number }, JournalFault> => {
  const known = steps.at(-1)?.version ?? 0;
  const found = layoutVersion(database);
  if (found > known) return fault({ code: 'newer-version', path: database.name, found, known });
  for (const { version, sql } of steps) {
    if (version <= found) continue;
    database.transaction(() => {
      database.exec(sql);
      database.pragma(`user_version = ${version}`);
    })();
  }
  return ok({ version: known });
};

export const layoutVersion = (database: Database): number => Number(database.pragma('user_version', { simple: true }));
