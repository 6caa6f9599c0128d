import { existsSync, mkdirSync, readdirSync, renameSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { JOURNAL_FILE } from '../../../gateway/journal/open.js';
import { emptyFolder, landing, openedIn, openedJournal, reading, START_MS } from './opened.js';

test('a backup is one file that opens as the journal it was made of, while the journal goes on', async () => {
  const journal = openedJournal();
  const folder = emptyFolder();
  const kept = Array.from({ length: 20_000 }, (_, n) => reading({ deviceMs: START_MS + n }));
  journal.importHistory(kept);
  journal.accounts.put({ name: 'Tomé', hash: 'h', role: 'crew', createdMs: START_MS });

  const copying = journal.backupTo(join(folder, 'copy.sqlite'));
  journal.land(landing({ readings: [reading({ deviceMs: START_MS - 1 })] }));
  expect(await copying).toMatchObject({ ok: true, value: { path: join(folder, 'copy.sqlite') } });
  expect(readdirSync(folder)).toEqual(['copy.sqlite']);

  mkdirSync(join(folder, 'restored'));
  renameSync(join(folder, 'copy.sqlite'), join(folder, 'restored', JOURNAL_FILE));
  const restored = openedIn(join(folder, 'restored'));
  expect(restored.readings.between(1, START_MS, Number.MAX_SAFE_INTEGER)).toHaveLength(20_000);
  expect(restored.accounts.byName('Tomé')?.role).toBe('crew');
  restored.close();
});

test('a backup takes the place of an older one only when it is whole', async () => {
  const journal = openedJournal();
  const path = join(emptyFolder(), 'copy.sqlite');
  expect((await journal.backupTo(path)).ok).toBe(true);
  expect((await journal.backupTo(path)).ok).toBe(true);
  expect(existsSync(`${path}.unfinished`)).toBe(false);
});

test('a whole journal has no damage, and is read through while it is open', async () => {
  const journal = openedJournal();
  journal.land(landing({ readings: [reading({ deviceMs: START_MS })] }));
  expect(await journal.damage()).toBeUndefined();
});

test('a backup into a folder that is not there is told', async () => {
  const journal = openedJournal();
  const folder = join(emptyFolder(), 'none');
  expect(await journal.backupTo(join(folder, 'copy.sqlite'))).toEqual({
    ok: false,
    fault: { code: 'folder-not-writable', folder, because: 'ENOENT' },
  });
});
