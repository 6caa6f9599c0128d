import { chmodSync, mkdirSync } from 'node:fs';
import { dirname, join } from 'node:path';
import BetterSqlite3 from 'better-sqlite3';
import { fault, ok, type Result } from '../../rules/result.js';
import type { JournalFault } from '../../rules/words/journal.js';
import { firstDamage } from './damage.js';
import { type Database, isDamage, worldlyCode } from './database.js';
import { buildJournal, CLEAN_END, type Durability, type Journal, type JournalParts } from './journal.js';
import { type Lock, lockFolder } from './lock.js';
import { buildMeta } from './meta.js';
import { layoutVersion, migrate } from './migrate.js';
import { KNOWN_VERSION } from './migrations/list.js';
import { RETENTION, type Retention } from './retention.js';

/** "NWJ1" in the file's header says whose it is: the first thing that is written. */
const APPLICATION_ID = 0x4e574a31;

export const JOURNAL_FILE = 'journal.sqlite';

export type JournalSettings = { readonly durability: Durability; readonly retention?: Partial<Retention> };

/**
 * Opens the journal of a folder for its one owner, making both if they are not there. A journal that did not end
 * cleanly is checked first. What the world refuses is a fault, and then nothing stays locked or changed.
 */
export const openJournal = (
  folder: string,
  { durability, retention }: JournalSettings,
): Result<Journal, JournalFault> => {
  try {
    mkdirSync(folder, { recursive: true, mode: 0o700 });
    const lock = lockFolder(folder);
    return lock.ok ? openLocked(folder, lock.value, { durability, retention: { ...RETENTION, ...retention } }) : lock;
  } catch (error) {
    const because = worldlyCode(error);
    if (because === undefined) throw error;
    return fault({ code: 'folder-not-writable', folder, because });
  }
};

const openLocked = (
  folder: string,
  lock: Lock,
  settings: Pick<JournalParts, 'durability' | 'retention'>,
): Result<Journal, JournalFault> => {
  let opened: Result<Database, JournalFault> | undefined;
  try {
    opened = openFile(join(folder, JOURNAL_FILE), settings.durability);
  } finally {
    if (opened?.ok !== true) lock.release();
  }
  if (!opened.ok) return opened;
  return ok(buildJournal({ database: opened.value, folder, ...settings, release: lock.release }));
};

const openFile = (path: string, durability: Durability): Result<Database, JournalFault> => {
  const database = new BetterSqlite3(path);
  let prepared: Result<Database, JournalFault> | undefined;
  try {
    prepared = prepareFile(database, durability);
  } finally {
    if (prepared?.ok !== true) database.close();
  }
  return prepared;
};

const prepareFile = (database: Database, durability: Durability): Result<Database, JournalFault> => {
  try {
    const refused = refusal(database);
    if (refused !== undefined) return fault(refused);
    if (!setUp(database, durability))
      return fault({ code: 'folder-not-writable', folder: dirname(database.name), because: 'no-wal' });
    migrate(database);
    buildMeta(database).set(CLEAN_END, 'no');
    return ok(database);
  } catch (error) {
    if (!isDamage(error)) throw error;
    return fault({ code: 'corrupt', path: database.name, because: String(worldlyCode(error)) });
  }
};

/** Looked at before anything is written: a file that is newer, damaged or somebody else's stays as it is. */
const refusal = (database: Database): JournalFault | undefined => {
  const path = database.name;
  const [found, known] = [layoutVersion(database), KNOWN_VERSION];
  const isEmpty = database.pragma('page_count', { simple: true }) === 0;
  if (!isEmpty && database.pragma('application_id', { simple: true }) !== APPLICATION_ID)
    return { code: 'corrupt', path, because: 'not-a-journal' };
  if (found > known) return { code: 'newer-version', path, found, known };
  const damage = endedCleanly(database) ? undefined : firstDamage(database);
  return damage === undefined ? undefined : { code: 'corrupt', path, because: damage };
};

const endedCleanly = (database: Database): boolean =>
  layoutVersion(database) === 0 || buildMeta(database).get(CLEAN_END) === 'yes';

/**
 * Pages of 4 KiB between checkpoints, 16 MiB: where this was measured, 1.4 times the rate of 4 MiB. 64 MiB gained a
 * fifth more, and leaves four times as much to be written at once.
 */
const CHECKPOINT_PAGES = 4_096;
const LARGEST_IDLE_WAL_BYTES = 64 * 2 ** 20;

/** False on a file system without shared memory, as some network folders are: SQLite then stays out of WAL mode. */
const setUp = (database: Database, durability: Durability): boolean => {
  chmodSync(database.name, 0o600);
  // Only before the first table: lets the file shrink a little at a time when sealing has emptied pages.
  database.pragma('auto_vacuum = INCREMENTAL');
  database.pragma(`application_id = ${APPLICATION_ID}`);
  const mode = database.pragma('journal_mode = WAL', { simple: true });
  database.pragma(`synchronous = ${durability === 'commit' ? 'FULL' : 'NORMAL'}`);
  database.pragma(`wal_autocheckpoint = ${CHECKPOINT_PAGES}`);
  database.pragma(`journal_size_limit = ${LARGEST_IDLE_WAL_BYTES}`);
  return mode === 'wal';
};
