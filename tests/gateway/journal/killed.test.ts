import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { createInterface } from 'node:readline';
import { expect, onTestFinished, test } from 'vitest';
import { emptyFolder, openedIn, START_MS } from './opened.js';

const GROUP = 50;
const OPEN_JS = new URL('../../../dist/gateway/journal/open.js', import.meta.url).href;

/** Lands one group after another, each of readings of one value and one alarm change, and says each that is committed. */
const LAND = `
  import { writeSync } from 'node:fs';
  const [, url, folder, first] = process.argv;
  const { openJournal } = await import(url);
  const { value: journal } = openJournal(folder, { durability: 'second' });
  for (let group = Number(first); ; group += 1) {
    const atMs = ${START_MS} + group * 1000;
    const readings = Array.from({ length: ${GROUP} }, (_, n) =>
      ({ sourceId: 1 + (n % 7), deviceMs: atMs + n, arrivalMs: atMs + n, raw: group, flags: 0 }));
    const alarm = { id: 'a' + group, subject: 'l2', finding: {}, priority: 'low', state: 'unack', activatedMs: atMs, changedMs: atMs };
    journal.land({ readings, revisions: [], alarms: [{ atMs, alarm, event: 'cond-on' }], malformed: [], boards: [], packets: [],
      ...(group % 40 === 39 ? { snapshot: { atMs, version: 1, body: String(group) } } : {}) });
    if (group % 16 === 15) journal.beat(atMs);
    writeSync(1, group + '\\n');
  }
`;

/** Groups after which the process is killed, counted from its start: at different places between snapshots and beats. */
const KILLS = [3, 41, 80, 117, 160] as const;

const landUntilKilled = async (folder: string, first: number, groups: number): Promise<number> => {
  const child = spawn(process.execPath, ['--input-type=module', '-e', LAND, OPEN_JS, folder, String(first)], {
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  onTestFinished(() => void child.kill('SIGKILL'));
  const ended = once(child, 'exit');
  let committed = -1;
  for await (const line of createInterface({ input: child.stdout })) {
    committed = Number(line);
    if (committed >= first + groups) child.kill('SIGKILL');
  }
  await ended;
  return committed;
};

test('a killed process leaves each group whole or absent, and loses none that it had committed', async () => {
  const folder = emptyFolder();
  let first = 0;
  for (const groups of KILLS) {
    const committed = await landUntilKilled(folder, first, groups);
    expect(committed).toBeGreaterThanOrEqual(first + groups);

    const journal = openedIn(folder);
    const rows = [1, 2, 3, 4, 5, 6, 7].flatMap((id) => journal.readings.between(id, 0, Number.MAX_SAFE_INTEGER));
    const alarms = journal.changesSince(0);
    const whole = alarms.length;
    expect(whole).toBeGreaterThan(committed);
    expect(alarms.map(({ sequence }) => sequence)).toEqual(Array.from({ length: whole }, (_, n) => n + 1));
    const sizes = new Map<number, number>();
    for (const { raw } of rows) sizes.set(raw, (sizes.get(raw) ?? 0) + 1);
    expect([...sizes.keys()].sort((a, b) => a - b)).toEqual(Array.from({ length: whole }, (_, n) => n));
    expect(new Set(sizes.values())).toEqual(new Set([GROUP]));

    const snapshot = journal.snapshot();
    const after = snapshot === undefined ? 0 : Number(snapshot.body) + 1;
    const tail = [...journal.tailSince(snapshot)];
    expect(tail.map(({ raw }) => raw)).toEqual(
      Array.from({ length: (whole - after) * GROUP }, (_, n) => after + Math.floor(n / GROUP)),
    );
    journal.close();
    first = whole;
  }
});
