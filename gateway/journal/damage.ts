import type { Database } from './database.js';

/** A file up to this size is read through at once: 121 MB took 0.4 s where this was measured, the file in memory. */
const READ_THROUGH_BYTES = 128 * 2 ** 20;

/** These hold nearly all of the bytes; a table of them is read through by `firstDamageAnywhere`, not at each start. */
const LARGE_TABLES = ['reading', 'hour', 'sealed_day'];

/** What SQLite finds wrong first, in all of a small file, or in all but the readings of a large one; else undefined. */
export const firstDamage = (database: Database): string | undefined => {
  const pages = Number(database.pragma('page_count', { simple: true }));
  const pageBytes = Number(database.pragma('page_size', { simple: true }));
  return pages * pageBytes <= READ_THROUGH_BYTES ? firstDamageAnywhere(database) : firstDamageInSmallTables(database);
};

export const firstDamageAnywhere = (database: Database): string | undefined =>
  complaint(database.pragma('quick_check(1)', { simple: true }));

const firstDamageInSmallTables = (database: Database): string | undefined => {
  const tables = database.prepare<[], string>("SELECT name FROM sqlite_schema WHERE type = 'table'").pluck().all();
  for (const table of tables.filter((name) => !LARGE_TABLES.includes(name))) {
    const found = complaint(database.pragma(`quick_check('${table}')`, { simple: true }));
    if (found !== undefined) return found;
  }
  return undefined;
};

const complaint = (answer: unknown): string | undefined => (answer === 'ok' ? undefined : String(answer));
