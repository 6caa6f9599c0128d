import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdirSync, openSync, readFileSync, statSync, writeFileSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import BetterSqlite3 from 'better-sqlite3';
import { describe, expect, onTestFinished, test } from 'vitest';
import { KNOWN_VERSION } from '../../../gateway/journal/migrations/list.js';
import { JOURNAL_FILE, openJournal } from '../../../gateway/journal/open.js';
import { readThrough } from '../../../gateway/journal/read-through.js';
import { journalSentence } from '../../../rules/words/journal.js';
import { emptyFolder, landing, openedIn, reading, START_MS } from './opened.js';

const open = (folder: string) => openJournal(folder, { durability: 'second' });

describe('opening the journal', () => {
  test('makes the folder, for its owner only', () => {
    const folder = join(emptyFolder(), 'a', 'b');
    const journal = openedIn(folder);
    expect(statSync(folder).mode & 0o777).toBe(0o700);
    expect(statSync(journal.path).mode & 0o777).toBe(0o600);
    journal.close();
  });

  test('a second one in the same folder is refused, and may open when the first has closed', () => {
    const folder = emptyFolder();
    const journal = openedIn(folder);
    const refused = open(folder);
    expect(refused).toEqual({ ok: false, fault: { code: 'already-in-use', folder, processId: process.pid } });
    expect(!refused.ok && journalSentence(refused.fault)).toContain(`number ${process.pid}`);
    journal.close();
    openedIn(folder).close();
  });

  test('a folder is free again when the process that held it is killed', async () => {
    const folder = emptyFolder();
    const child = spawn(process.execPath, ['--input-type=module', '-e', HOLD, OPEN_JS, folder]);
    onTestFinished(() => void child.kill('SIGKILL'));
    const [said] = await once(child.stdout, 'data');
    expect(String(said)).toBe('opened');
    expect(open(folder)).toMatchObject({ fault: { code: 'already-in-use', processId: child.pid } });
    child.kill('SIGKILL');
    await once(child, 'exit');
    openedIn(folder).close();
  });

  test('a journal of a newer version is refused with both versions, untouched', () => {
    const folder = emptyFolder();
    openedIn(folder).close();
    const path = join(folder, JOURNAL_FILE);
    const newer = new BetterSqlite3(path);
    newer.pragma('user_version = 99');
    newer.close();
    const before = readFileSync(path);
    const refused = open(folder);
    expect(refused).toMatchObject({ fault: { code: 'newer-version', path, found: 99, known: KNOWN_VERSION } });
    expect(!refused.ok && journalSentence(refused.fault)).toContain(
      `its version is 99, this program knows ${KNOWN_VERSION}`,
    );
    expect(readFileSync(path).equals(before)).toBe(true);
    expect(open(folder)).toMatchObject({ fault: { code: 'newer-version' } });
  });

  test('a file that is no journal is refused, untouched', () => {
    const folder = emptyFolder();
    writeFileSync(join(folder, JOURNAL_FILE), 'temperatures of last summer, do not delete'.repeat(50));
    expect(open(folder)).toMatchObject({ fault: { code: 'corrupt', because: 'SQLITE_NOTADB' } });
    expect(readFileSync(join(folder, JOURNAL_FILE), 'utf8')).toContain('do not delete');
  });

  test('a database of another program is refused, untouched', () => {
    const folder = emptyFolder();
    const other = new BetterSqlite3(join(folder, JOURNAL_FILE));
    other.exec('CREATE TABLE accounts (sum REAL)');
    other.close();
    const before = readFileSync(join(folder, JOURNAL_FILE));
    expect(open(folder)).toMatchObject({ fault: { code: 'corrupt', because: 'not-a-journal' } });
    expect(readFileSync(join(folder, JOURNAL_FILE)).equals(before)).toBe(true);
  });

  test('a journal that did not end cleanly is read through, and damage is told', async () => {
    const folder = emptyFolder();
    const journal = openedIn(folder);
    journal.land(landing({ readings: Array.from({ length: 2_000 }, (_, n) => reading({ deviceMs: START_MS + n })) }));
    journal.close();
    damageMiddle(join(folder, JOURNAL_FILE));
    const unclean = new BetterSqlite3(join(folder, JOURNAL_FILE));
    unclean.prepare("UPDATE meta SET value = 'no' WHERE key = 'clean-end'").run();
    unclean.close();
    const refused = open(folder);
    expect(refused).toMatchObject({ fault: { code: 'corrupt' } });
    expect(!refused.ok && journalSentence(refused.fault)).toContain('restore the newest backup');
    expect(await readThrough(join(folder, JOURNAL_FILE))).toBeTypeOf('string');
  });

  test('a folder that cannot be written is told with the reason', () => {
    const folder = emptyFolder();
    writeFileSync(join(folder, 'file'), '');
    expect(open(join(folder, 'file', 'data'))).toMatchObject({
      fault: { code: 'folder-not-writable', because: 'ENOTDIR' },
    });
    mkdirSync(join(folder, 'taken', JOURNAL_FILE), { recursive: true });
    expect(open(join(folder, 'taken'))).toMatchObject({
      fault: { code: 'folder-not-writable', because: 'SQLITE_CANTOPEN' },
    });
    expect(open(join(folder, 'taken'))).toMatchObject({ fault: { code: 'folder-not-writable' } });
  });
});

const OPEN_JS = new URL('../../../dist/gateway/journal/open.js', import.meta.url).href;
const HOLD = `
  const [, url, folder] = process.argv;
  const { openJournal } = await import(url);
  const opened = openJournal(folder, { durability: 'second' });
  process.stdout.write(opened.ok ? 'opened' : JSON.stringify(opened.fault));
  // A journal that nothing refers to may be collected, and its lock with it.
  setInterval(() => opened, 1_000);
`;

const damageMiddle = (path: string): void => {
  const file = openSync(path, 'r+');
  const { size } = statSync(path);
  // The reading table's pages are the last ones of the file.
  for (let at = size - 8 * 4_096; at < size; at += 4_096) writeSync(file, Buffer.alloc(64, 0xaa), 0, 64, at);
};
