import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';

const STORY = fileURLToPath(new URL('../../dist/simulator/story.js', import.meta.url));

/** Minutes of the day of a clock time. */
const minutes = (clock: string): number => {
  const [hour = '', minute = ''] = clock.split(':');
  return Number(hour) * 60 + Number(minute);
};

type Told = Readonly<
  Record<'pushAt' | 'emailAt' | 'textAt' | 'secondPersonAt' | 'acknowledgedAt' | 'calledAgainAt', string>
> & {
  readonly ladderStopped: boolean;
  readonly journalEntries: number;
};

test('a heater sticks at 02:10: push, mail, text and ring, the second person, “I am going”, called again, then it stops, with everything in the journal', () => {
  const { stdout, status } = spawnSync(process.execPath, [STORY, 'story', 'night', '--json'], {
    encoding: 'utf8',
    timeout: 240_000,
  });
  expect(status).toBe(0);
  const told = JSON.parse(stdout) as Told;
  const at = (key: Exclude<keyof Told, 'ladderStopped' | 'journalEntries'>): number => minutes(told[key]);
  expect(at('pushAt')).toBeGreaterThan(minutes('02:10'));
  expect(at('emailAt')).toBe(at('pushAt') + 2);
  expect(at('textAt')).toBe(at('pushAt') + 4);
  expect(at('secondPersonAt')).toBe(at('pushAt') + 10);
  expect(at('acknowledgedAt')).toBe(at('secondPersonAt') + 1);
  // Twenty minutes as she said, and ten of grace.
  expect(at('calledAgainAt')).toBe(at('acknowledgedAt') + 30);
  expect(told.ladderStopped).toBe(true);
  // Five calls, "going" and "there", and what the others were told of it.
  expect(told.journalEntries).toBeGreaterThanOrEqual(7);
}, 300_000);
