import type BetterSqlite3 from 'better-sqlite3';

export type Database = BetterSqlite3.Database;

/** The system's or SQLite's short word for what went wrong, when it is theirs; undefined for a bug of our own. */
export const worldlyCode = (error: unknown): string | undefined =>
  error instanceof Error && 'code' in error && typeof error.code === 'string' ? error.code : undefined;

export const isDamage = (error: unknown): boolean => {
  const code = worldlyCode(error);
  return code !== undefined && (code === 'SQLITE_NOTADB' || code.startsWith('SQLITE_CORRUPT'));
};
