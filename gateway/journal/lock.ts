import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import BetterSqlite3 from 'better-sqlite3';
import { fault, ok, type Result } from '../../rules/result.js';
import type { JournalFault } from '../../rules/words/journal.js';
import { worldlyCode } from './database.js';

export type Lock = { release(): void };

/**
 * One process owns a folder. The lock is SQLite's own exclusive file lock, held by a transaction that never ends: the
 * system drops it when the process dies, however it dies. `lock.pid` beside it only says who holds it.
 */
export const lockFolder = (folder: string): Result<Lock, JournalFault> => {
  const pidPath = join(folder, 'lock.pid');
  const held = new BetterSqlite3(join(folder, 'lock.sqlite'), { timeout: 0 });
  try {
    held.exec('BEGIN EXCLUSIVE');
  } catch (error) {
    held.close();
    if (worldlyCode(error) !== 'SQLITE_BUSY') throw error;
    const processId = processIn(pidPath);
    return fault({ code: 'already-in-use', folder, ...(processId === undefined ? {} : { processId }) });
  }
  writeFileSync(pidPath, `${process.pid}\n`);
  return ok({
    release: () => {
      rmSync(pidPath, { force: true });
      held.close();
    },
  });
};

const processIn = (path: string): number | undefined => {
  try {
    const processId = Number.parseInt(readFileSync(path, 'utf8'), 10);
    return Number.isInteger(processId) ? processId : undefined;
  } catch {
    // The holder has not written its number yet, or is just leaving: the lock alone decides.
    return undefined;
  }
};
