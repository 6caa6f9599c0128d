import type { Database } from './database.js';

/** What later days will need again is kept: 8 MiB, and a quarter of the file. */
const FREE_PAGES_KEPT = 2_048;
const FREE_SHARE_KEPT = 1 / 4;
/** Given back at once: 1 MiB. */
const PAGES_A_BEAT = 256;

/** Gives pages that sealing and dropping have emptied back to the file system, a few at a time. */
export const buildShrink = (database: Database): (() => void) => {
  const count = (what: 'freelist_count' | 'page_count'): number => Number(database.pragma(what, { simple: true }));
  return () => {
    const free = count('freelist_count');
    if (free <= FREE_PAGES_KEPT || free <= count('page_count') * FREE_SHARE_KEPT) return;
    database.pragma(`incremental_vacuum(${PAGES_A_BEAT})`);
  };
};
