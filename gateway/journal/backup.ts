import { renameSync, rmSync, statSync } from 'node:fs';
import { dirname } from 'node:path';
import BetterSqlite3 from 'better-sqlite3';
import { fault, ok, type Result } from '../../rules/result.js';
import type { JournalFault } from '../../rules/words/journal.js';
import { type Database, worldlyCode } from './database.js';
import { readThrough } from './read-through.js';

export type Backup = { readonly path: string; readonly bytes: number };

/**
 * Copies the journal into one file while it goes on being written, some pages at a time, and reads the copy through
 * before it takes its name: what is there under the name is whole.
 */
export const backupTo = async (database: Database, path: string): Promise<Result<Backup, JournalFault>> => {
  const unfinished = `${path}.unfinished`;
  try {
    rmSync(unfinished, { force: true });
    await database.backup(unfinished);
    leaveWal(unfinished);
    const damage = await readThrough(unfinished);
    if (damage !== undefined) return fault({ code: 'corrupt', path: unfinished, because: damage });
    renameSync(unfinished, path);
    return ok({ path, bytes: statSync(path).size });
  } catch (error) {
    const because = worldlyCode(error) ?? directoryMissing(error);
    if (because === undefined) throw error;
    return fault({ code: 'folder-not-writable', folder: dirname(path), because });
  }
};

/** Takes the copy out of WAL mode, so that it is one file wherever it is carried. */
const leaveWal = (path: string): void => {
  const copy = new BetterSqlite3(path, { fileMustExist: true });
  try {
    copy.pragma('journal_mode = DELETE');
  } finally {
    copy.close();
  }
};

/** better-sqlite3 has no code for it. */
const directoryMissing = (error: unknown): string | undefined =>
  error instanceof TypeError && error.message.includes('directory does not exist') ? 'ENOENT' : undefined;
