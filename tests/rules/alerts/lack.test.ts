import { describe, expect, test } from 'vitest';
import { failingWays, unansweredDrills } from '../../../rules/alerts/lack.js';
import { lackWords } from '../../../rules/words/lack.js';
import { MINUTE, NIGHT_MS } from '../../support/ladder-night.js';
import { PEOPLE } from '../../support/people.js';

const HOUR = 60 * MINUTE;
const DAY = 24 * HOUR;
const reader = { zone: 'UTC', hours: 24, temperatureUnit: 'C' } as const;
const drilled = [{ atMs: NIGHT_MS + DAY, personId: 'asta', ways: ['push', 'text'] as const }];

describe('a drill', () => {
  test('that nobody answers stands under “not watched” the day after, with the ways by name', () => {
    const nowMs = NIGHT_MS + 2 * DAY;
    const [lack, ...others] = unansweredDrills(PEOPLE, drilled, nowMs);
    expect(others).toEqual([]);
    expect(lack === undefined ? '' : lackWords(lack, nowMs, reader)).toMatch(
      /^Asta cannot be reached by push, text message: the test call of .*02:10.* was not answered for$/,
    );
  });

  test('is given an hour to be answered for', () => {
    expect(unansweredDrills(PEOPLE, drilled, NIGHT_MS + DAY + HOUR)).toEqual([]);
    expect(unansweredDrills(PEOPLE, drilled, NIGHT_MS + DAY + HOUR + 1)).toHaveLength(1);
  });

  test('that was answered by one way leaves the other on the list, whatever the answer was', () => {
    const triedMs = NIGHT_MS + DAY + 5 * MINUTE;
    const people = PEOPLE.map((person) => ({
      ...person,
      ways: person.ways.map((way) => (way.way === 'push' ? { ...way, wakes: 'no' as const, triedMs } : way)),
    }));
    expect(unansweredDrills(people, drilled, NIGHT_MS + 2 * DAY)).toMatchObject([{ ways: ['text'] }]);
  });
});

describe('a way out', () => {
  const failed = (minutes: number, code = 'no-connection') =>
    ({ way: 'email', atMs: NIGHT_MS + minutes * MINUTE, code }) as const;
  const went = (minutes: number) => ({ way: 'email', atMs: NIGHT_MS + minutes * MINUTE }) as const;

  test('that failed twice in a row is told, since the first of them and with what to do', () => {
    const [lack] = failingWays([went(0), failed(1), failed(2)]);
    expect(lack).toEqual({ kind: 'way-fails', way: 'email', sinceMs: NIGHT_MS + MINUTE, code: 'no-connection' });
    expect(lack === undefined ? '' : lackWords(lack, NIGHT_MS + HOUR, reader)).toBe(
      'E-mail fails since 02:11: nothing answers there: check the address and the internet line',
    );
  });

  test('that failed once, or went since, is not', () => {
    expect(failingWays([went(0), failed(1)])).toEqual([]);
    expect(failingWays([failed(0), failed(1), went(2)])).toEqual([]);
  });
});

describe('a history database', () => {
  test('that takes nothing is said with since when and how long, and where the readings are', () => {
    expect(lackWords({ kind: 'history-away', sinceMs: NIGHT_MS }, NIGHT_MS + 7 * HOUR, reader)).toBe(
      'The history database has taken no readings since 02:10, 7 h: they wait on this machine’s disk alone',
    );
  });
});
