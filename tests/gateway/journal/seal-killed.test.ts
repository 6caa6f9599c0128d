import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { createInterface } from 'node:readline';
import { expect, onTestFinished, test } from 'vitest';
import { emptyFolder, openedIn, START_MS } from './opened.js';

const OPEN_JS = new URL('../../../dist/gateway/journal/open.js', import.meta.url).href;
const DAY_MS = 86_400_000;
const A_DAY = 1_440;
const SOURCES = [1, 2, 3] as const;

/** Keeps one day after the other for three sources and says so, then seals it, a late reading for the day before with it. */
const SEAL = `
  import { writeSync } from 'node:fs';
  const [, url, folder, first] = process.argv;
  const { openJournal } = await import(url);
  const { value: journal } = openJournal(folder, { durability: 'second' });
  const at = (sourceId, day, n) => ({ sourceId, deviceMs: ${START_MS} + day * ${DAY_MS} + n * 60000 + (n === 1439 ? 7 : 0),
    arrivalMs: ${START_MS} + day * ${DAY_MS} + n * 60000 + 40, raw: day + n / 10000, flags: n % 7 });
  for (let day = Number(first); ; day += 1) {
    const late = (sourceId) => day === 0 ? [] : [at(sourceId, day - 1, 1439)];
    journal.importHistory(${JSON.stringify(SOURCES)}.flatMap((sourceId) =>
      [...Array.from({ length: ${A_DAY - 1} }, (_, n) => at(sourceId, day, n)), ...late(sourceId)]));
    writeSync(1, day + '\\n');
    await journal.sealAll(${START_MS} + 4000 * ${DAY_MS});
  }
`;

/** Days after which the process is killed, and how long after: at different places of reading, sealing and committing. */
const KILLS = [
  [1, 0],
  [2, 9],
  [1, 23],
  [3, 41],
  [1, 60],
  [2, 77],
] as const;

const sealUntilKilled = async (folder: string, first: number, days: number, afterMs: number): Promise<number> => {
  const child = spawn(process.execPath, ['--input-type=module', '-e', SEAL, OPEN_JS, folder, String(first)], {
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  onTestFinished(() => void child.kill('SIGKILL'));
  const ended = once(child, 'exit');
  let kept = -1;
  for await (const line of createInterface({ input: child.stdout })) {
    kept = Number(line);
    if (kept === first + days) setTimeout(() => child.kill('SIGKILL'), afterMs);
  }
  await ended;
  return kept;
};

test('a process killed while it seals loses no reading and doubles none', async () => {
  const folder = emptyFolder();
  let first = 0;
  for (const [days, afterMs] of KILLS) {
    const kept = await sealUntilKilled(folder, first, days, afterMs);
    expect(kept).toBeGreaterThanOrEqual(first + days);

    const journal = openedIn(folder);
    expect(await journal.damage()).toBeUndefined();
    const newest = journal.readings.newest(1)?.deviceMs ?? 0;
    const whole = Math.floor((newest - START_MS) / DAY_MS);
    expect(whole).toBeGreaterThanOrEqual(kept);
    for (const sourceId of SOURCES) {
      const rows = journal.readings.between(sourceId, 0, Number.MAX_SAFE_INTEGER);
      // Of the newest day the last reading has not come yet.
      const expected = Array.from({ length: (whole + 1) * A_DAY - 1 }, (_, at) => {
        const [day, n] = [Math.floor(at / A_DAY), at % A_DAY];
        const deviceMs = START_MS + day * DAY_MS + n * 60_000 + (n === A_DAY - 1 ? 7 : 0);
        return [deviceMs, day + n / 10_000, n % 7];
      });
      expect(rows.map(({ deviceMs, raw, flags }) => [deviceMs, raw, flags])).toEqual(expected);
      expect(rows.every(({ variant }) => variant === 0)).toBe(true);
    }
    journal.close();
    first = whole + 1;
  }
});
