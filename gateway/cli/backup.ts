import { existsSync } from 'node:fs';
import { join, resolve } from 'node:path';
import BetterSqlite3 from 'better-sqlite3';
import { fault, type Result } from '../../rules/result.js';
import { journalSentence } from '../../rules/words/journal.js';
import { backupTo } from '../journal/backup.js';
import { JOURNAL_FILE } from '../journal/open.js';
import { parseArguments } from './arguments.js';
import { type Command, DONE, failed, type Io, wrongUsage } from './command.js';
import { done } from './reach.js';
import { settledConfig } from './settled.js';

export const backup: Command = {
  name: 'backup',
  summary: 'copy everything that is kept into one file, while it goes on running',
  help: `nightwater backup FILE

Copies the journal (readings, alarms, log, settings, accounts) into one file, also while the gateway runs, and reads the
copy through before it gets its name. A file that is there already is not written over. Keep it elsewhere: it holds the
hashes of passphrases and tokens. “nightwater restore FILE” brings it back.`,
  run: async (args, io) => {
    const typed = parseArguments(args, {});
    if (!typed.ok) return wrongUsage(io, 'backup', typed.fault);
    const [path, extra] = typed.value.words;
    if (path === undefined || extra !== undefined) return wrongUsage(io, 'backup', 'Name one file to write.');
    const made = await copy(io, resolve(path));
    return made.ok ? DONE : failed(io, ...made.fault);
  },
};

/** SQLite lets a second program read a consistent copy while the first goes on writing. */
const copy = async (io: Io, path: string): Promise<Result<undefined, readonly string[]>> => {
  const config = settledConfig(io);
  if (!config.ok) return config;
  const journal = resolve(join(config.value.dataFolder, JOURNAL_FILE));
  if (!existsSync(journal))
    return fault([`There is nothing to copy: ${journal} does not exist. Set NIGHTWATER_DATA to the data folder.`]);
  if (existsSync(path)) return fault([`${path} is there already and was left as it is: choose another name.`]);
  const database = new BetterSqlite3(journal, { readonly: true });
  try {
    const made = await backupTo(database, path);
    if (!made.ok) return fault([journalSentence(made.fault)]);
    io.out(`${made.value.path}: ${made.value.bytes} bytes, read through and whole.`);
    return done;
  } finally {
    database.close();
  }
};
