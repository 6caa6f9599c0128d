import { describe, expect, test } from 'vitest';
import type { Person } from '../../../rules/alerts/person.js';
import { unreachable } from '../../../rules/alerts/person.js';
import {
  callOrder,
  hourOf,
  inRole,
  ladderHour,
  NO_WATCH,
  onWatch,
  type Shift,
  type WatchPlan,
  watchGaps,
} from '../../../rules/alerts/watch-plan.js';
import { zoneOffsetMs } from '../../../rules/words/clock.js';

const ZONE = 'America/New_York';
const HOUR = 3_600_000;
/** A moment by the clock on the wall of the site. */
const local = (year: number, month: number, day: number, hour: number, minute = 0): number => {
  const utc = Date.UTC(year, month - 1, day, hour, minute);
  return utc - zoneOffsetMs(utc + 5 * HOUR, ZONE);
};

const person = (id: string, more: Partial<Person> = {}): Person => ({
  id,
  name: id,
  manager: false,
  ways: [{ way: 'text', address: '+15550100', wakes: 'yes', triedMs: 0 }],
  ...more,
});
const nights = (weekdays: readonly number[], personId: string): Shift[] =>
  weekdays.map((weekday) => ({ weekday, fromMinute: 18 * 60, minutes: 12.5 * 60, role: 'on-call', personId }));

const plan: WatchPlan = { ...NO_WATCH, shifts: [...nights([1, 2, 3, 4, 5], 'asta'), ...nights([6, 7], 'bela')] };
const people = [person('asta'), person('bela'), person('cora', { manager: true })];

describe('who is on call', () => {
  test('is read off the week by the site’s own clock, past midnight and past Sunday', () => {
    // 1 June 2026 is a Monday.
    expect(onWatch(plan, 'on-call', local(2026, 6, 1, 23), ZONE)).toEqual(['asta']);
    expect(onWatch(plan, 'on-call', local(2026, 6, 2, 6, 29), ZONE)).toEqual(['asta']);
    expect(onWatch(plan, 'on-call', local(2026, 6, 2, 6, 30), ZONE)).toEqual([]);
    expect(onWatch(plan, 'on-call', local(2026, 6, 1, 3), ZONE)).toEqual(['bela']);
  });

  test('stays the same person through the night on which the clock goes back', () => {
    const from = local(2026, 11, 1, 0);
    for (let hour = 0; hour < 7; hour += 1)
      expect(onWatch(plan, 'on-call', from + hour * HOUR, ZONE)).toEqual(['bela']);
  });

  test('is who swapped, for as long as the swap lasts', () => {
    const swap = {
      fromMs: local(2026, 6, 1, 18),
      toMs: local(2026, 6, 2, 7),
      role: 'on-call',
      personId: 'cora',
    } as const;
    const swapped = { ...plan, swaps: [swap] };
    expect(onWatch(swapped, 'on-call', local(2026, 6, 2, 2), ZONE)).toEqual(['cora']);
    expect(onWatch(swapped, 'on-call', local(2026, 6, 3, 2), ZONE)).toEqual(['asta']);
  });

  test('is nobody while that person is on holiday, and the plan says so a week ahead', () => {
    const away = {
      ...plan,
      holidays: [{ personId: 'asta', fromMs: local(2026, 6, 2, 12), toMs: local(2026, 6, 3, 12) }],
    };
    expect(onWatch(away, 'on-call', local(2026, 6, 3, 2), ZONE)).toEqual([]);
    const span = { fromMs: local(2026, 6, 2, 18), toMs: local(2026, 6, 3, 6, 30) };
    expect(watchGaps(away, people, span, ZONE)).toEqual([span]);
    expect(watchGaps(plan, people, span, ZONE)).toEqual([]);
  });

  test('counts only who can be reached', () => {
    const mute = [person('asta', { ways: [] }), person('cora', { manager: true })];
    expect(inRole(plan, mute, 'on-call', local(2026, 6, 1, 23), ZONE)).toEqual([]);
    expect(callOrder(plan, mute, local(2026, 6, 1, 23), ZONE)).toEqual(['cora']);
  });

  test('by day the room is called first only while somebody is on site to hear it', () => {
    const noonMs = Date.UTC(2026, 0, 14, 12);
    const nightMs = Date.UTC(2026, 0, 14, 2);
    expect(ladderHour(NO_WATCH, noonMs, 'UTC', { onSite: true })).toBe('day');
    expect(ladderHour(NO_WATCH, noonMs, 'UTC', { onSite: false })).toBe('night');
    expect(ladderHour(NO_WATCH, noonMs, 'UTC')).toBe('day');
    expect(ladderHour(NO_WATCH, nightMs, 'UTC', { onSite: true })).toBe('night');
  });

  test('between the rounds it is day, else night', () => {
    expect(hourOf(plan, local(2026, 6, 1, 7), ZONE)).toBe('day');
    expect(hourOf(plan, local(2026, 6, 1, 18), ZONE)).toBe('night');
  });
});

describe('whether somebody can be counted on', () => {
  test('needs a way that was tried, rang through silent, and was tried lately', () => {
    const day = 86_400_000;
    expect(unreachable(person('asta', { ways: [] }), 0)).toBe('no-way');
    expect(unreachable(person('asta', { ways: [{ way: 'push', address: '', wakes: 'not-tried' }] }), 0)).toBe(
      'never-tried',
    );
    expect(unreachable(person('asta', { ways: [{ way: 'push', address: '', wakes: 'no', triedMs: 0 }] }), 0)).toBe(
      'no-way-wakes',
    );
    expect(unreachable(person('asta'), 9 * day)).toBe('drill-overdue');
    expect(unreachable(person('asta'), 7 * day)).toBeUndefined();
  });
});
