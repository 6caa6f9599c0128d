import { chmodSync, copyFileSync, existsSync, mkdirSync, renameSync, rmSync } from 'node:fs';
import { join, resolve } from 'node:path';
import BetterSqlite3 from 'better-sqlite3';
import { fault, ok, type Result } from '../../rules/result.js';
import { journalSentence } from '../../rules/words/journal.js';
import { firstDamageAnywhere } from '../journal/damage.js';
import { isDamage } from '../journal/database.js';
import { lockFolder } from '../journal/lock.js';
import { layoutVersion } from '../journal/migrate.js';
import { MIGRATIONS } from '../journal/migrations/list.js';
import { JOURNAL_FILE } from '../journal/open.js';
import { parseArguments } from './arguments.js';
import { type Command, DONE, failed, type Io, wrongUsage } from './command.js';
import { done } from './reach.js';
import { settledConfig } from './settled.js';

export const restore: Command = {
  name: 'restore',
  summary: 'bring a backup back into the data folder',
  help: `nightwater restore FILE

Reads the backup through, sets aside what is in the data folder (as journal.sqlite.before-TIME, nothing is deleted), and
puts the backup in its place. Stop the gateway first: the command refuses while it runs. A backup of an older version is
brought up to date by the next start; one of a newer version is refused.`,
  run: async (args, io) => {
    const typed = parseArguments(args, {});
    if (!typed.ok) return wrongUsage(io, 'restore', typed.fault);
    const [path, extra] = typed.value.words;
    if (path === undefined || extra !== undefined) return wrongUsage(io, 'restore', 'Name one backup to bring back.');
    const brought = bringBack(io, resolve(path));
    return brought.ok ? DONE : failed(io, ...brought.fault);
  },
};

const bringBack = (io: Io, path: string): Result<undefined, readonly string[]> => {
  const config = settledConfig(io);
  if (!config.ok) return config;
  const sound = soundBackup(path);
  if (!sound.ok) return fault([sound.fault]);
  const folder = resolve(config.value.dataFolder);
  mkdirSync(folder, { recursive: true, mode: 0o700 });
  const lock = lockFolder(folder);
  if (!lock.ok) return fault([journalSentence(lock.fault)]);
  try {
    const aside = replaceJournal(folder, path, io.now());
    io.out(`${join(folder, JOURNAL_FILE)} is now the backup ${path}.`);
    if (aside !== undefined) io.out(`What was there is kept as ${aside}.`);
    return done;
  } finally {
    lock.value.release();
  }
};

/** Looked at before anything is touched. */
const soundBackup = (path: string): Result<undefined, string> => {
  if (!existsSync(path)) return fault(`There is no file ${path}.`);
  try {
    const database = new BetterSqlite3(path, { readonly: true, fileMustExist: true });
    try {
      const [found, known] = [layoutVersion(database), MIGRATIONS.at(-1)?.version ?? 0];
      const isOurs = database.prepare("SELECT 1 FROM sqlite_schema WHERE name = 'alarm_change'").get() !== undefined;
      if (found === 0 || !isOurs) return fault(`${path} is not a backup of Nightwater.`);
      if (found > known) return fault(journalSentence({ code: 'newer-version', path, found, known }));
      const damage = firstDamageAnywhere(database);
      return damage === undefined ? ok(undefined) : fault(journalSentence({ code: 'corrupt', path, because: damage }));
    } finally {
      database.close();
    }
  } catch (error) {
    if (isDamage(error)) return fault(`${path} is not a backup of Nightwater.`);
    const { code } = error as NodeJS.ErrnoException;
    return fault(`${path} cannot be read (${code ?? 'unknown reason'}).`);
  }
};

const BESIDE = ['', '-wal', '-shm'] as const;

/** First the whole copy under another name, then renames: stopped at any point, the old or the new is there. */
const replaceJournal = (folder: string, backupPath: string, nowMs: number): string | undefined => {
  const journal = join(folder, JOURNAL_FILE);
  const fresh = `${journal}.restoring`;
  copyFileSync(backupPath, fresh);
  chmodSync(fresh, 0o600);
  const aside = `${journal}.before-${new Date(nowMs).toISOString().replaceAll(/[-:]/g, '').replace(/\.\d+/, '')}`;
  const wasThere = existsSync(journal);
  for (const end of BESIDE) if (existsSync(journal + end)) renameSync(journal + end, aside + end);
  renameSync(fresh, journal);
  rmSync(join(folder, 'computed.sqlite'), { force: true });
  return wasThere ? aside : undefined;
};
