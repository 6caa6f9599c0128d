import type { Database } from './database.js';

/** Single words about this journal: the site's id, the demo's seed. */
export type Meta = {
  get(key: string): string | undefined;
  set(key: string, value: string): void;
  remove(key: string): void;
};

export const buildMeta = (database: Database): Meta => {
  const get = database.prepare<[string], string>('SELECT value FROM meta WHERE key = ?').pluck();
  const set = database.prepare<[string, string]>('INSERT OR REPLACE INTO meta (key, value) VALUES (?, ?)');
  const remove = database.prepare<[string]>('DELETE FROM meta WHERE key = ?');
  return {
    get: (key) => get.get(key),
    set: (key, value) => {
      set.run(key, value);
    },
    remove: (key) => {
      remove.run(key);
    },
  };
};
