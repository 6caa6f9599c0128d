import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  clockTicks,
  clockWords,
  dateWords,
  dayStartMs,
  dayStarts,
  dayWords,
  durationWords,
  isZone,
  momentWords,
  nextDayMs,
  wallMs,
  wallText,
  zoneOffsetMs,
} from '../../../rules/words/clock.js';

const NEW_YORK = { zone: 'America/New_York', hours: 24, temperatureUnit: 'C' } as const;
const HOUR = 3_600_000;
const at = Date.UTC;

describe('local clock', () => {
  const night = at(2026, 10, 25, 7, 21, 59);
  it('shows hours and minutes in the zone of the site', () => {
    expect(clockWords(night, NEW_YORK)).toBe('02:21');
    expect(clockWords(night, { ...NEW_YORK, hours: 12 })).toBe('2:21 am');
    expect(clockWords(at(2026, 10, 25, 5, 0), NEW_YORK)).toBe('00:00');
    expect(clockWords(at(2026, 10, 25, 17, 0), { ...NEW_YORK, hours: 12 })).toBe('12:00 pm');
  });

  it('names the local day, which may not be the day in Greenwich', () => {
    expect(dayWords(at(2026, 10, 25, 3), NEW_YORK)).toBe('Tue 24');
    expect(dayWords(night, NEW_YORK)).toBe('Wed 25');
    expect(dateWords(night, NEW_YORK)).toBe('Wed 25 Nov');
  });

  it('names the day only where it is another one', () => {
    expect(momentWords(at(2026, 10, 25, 6, 40), night, NEW_YORK)).toBe('01:40');
    expect(momentWords(at(2026, 10, 25, 3, 40), night, NEW_YORK)).toBe('Tue 24, 22:40');
  });

  it('knows a zone from a word', () => {
    expect(isZone('Pacific/Auckland')).toBe(true);
    expect(isZone('Nowhere/Land')).toBe(false);
  });
});

describe('lengths of time', () => {
  it.each([
    [0, '0 s'],
    [40_999, '40 s'],
    [60_000, '1 min'],
    [44 * 60_000 + 59_000, '44 min'],
    [HOUR, '1 h'],
    [2 * HOUR + 10 * 60_000, '2 h 10 min'],
    [25.9 * HOUR, '25 h'],
    [3.9 * 24 * HOUR, '3 d'],
    [-5000, '0 s'],
  ])('%d ms is %s, never rounded up', (ms, words) => {
    expect(durationWords(ms)).toBe(words);
  });
});

/** The rules of the US since 2007: second Sunday of March and first Sunday of November, at 02:00 (Energy Policy Act of 2005, sec. 110). */
describe('the two nights of daylight saving', () => {
  const spring = at(2026, 2, 8, 12);
  const autumn = at(2026, 10, 1, 12);
  it('have 23 and 25 hours', () => {
    const springDay = dayStartMs(spring, NEW_YORK.zone);
    const autumnDay = dayStartMs(autumn, NEW_YORK.zone);
    expect(springDay).toBe(at(2026, 2, 8, 5));
    expect(nextDayMs(spring, NEW_YORK.zone) - springDay).toBe(23 * HOUR);
    expect(autumnDay).toBe(at(2026, 10, 1, 4));
    expect(nextDayMs(autumn, NEW_YORK.zone) - autumnDay).toBe(25 * HOUR);
  });

  it('keep the ticks of a chart on whole local hours', () => {
    for (const day of [spring, autumn]) {
      const from = dayStartMs(day, NEW_YORK.zone);
      const ticks = clockTicks(from, nextDayMs(day, NEW_YORK.zone), 6, NEW_YORK.zone);
      expect(ticks.map((tick) => clockWords(tick, NEW_YORK))).toEqual(['00:00', '06:00', '12:00', '18:00']);
    }
  });

  it('change the offset', () => {
    expect(zoneOffsetMs(at(2026, 2, 8, 6, 59), NEW_YORK.zone)).toBe(-5 * HOUR);
    expect(zoneOffsetMs(at(2026, 2, 8, 7, 0), NEW_YORK.zone)).toBe(-4 * HOUR);
  });
});

describe('local days', () => {
  it('begin at 01:00 where midnight is skipped', () => {
    // tz database: Asia/Beirut goes from 00:00 to 01:00 on the last Sunday of March; 2022-03-27.
    const day = at(2022, 2, 27, 10);
    expect(clockWords(dayStartMs(day, 'Asia/Beirut'), { ...NEW_YORK, zone: 'Asia/Beirut' })).toBe('01:00');
  });

  it('are right where the offset is no whole hour', () => {
    expect(dayStartMs(at(2026, 0, 1, 12), 'Asia/Kathmandu')).toBe(at(2025, 11, 31, 18, 15));
  });

  it('are counted one by one over a change', () => {
    const starts = dayStarts(at(2026, 9, 30, 12), at(2026, 10, 3, 12), NEW_YORK.zone);
    expect(starts.map((start) => dayWords(start, NEW_YORK))).toEqual(['Sat 31', 'Sun 1', 'Mon 2', 'Tue 3']);
  });

  it('hold the moment they were asked for', () => {
    const zone = fc.constantFrom('America/New_York', 'Pacific/Auckland', 'Asia/Kathmandu', 'America/St_Johns', 'UTC');
    fc.assert(
      fc.property(fc.integer({ min: at(2000, 0, 1), max: at(2040, 0, 1) }), zone, (ms, name) => {
        const start = dayStartMs(ms, name);
        expect(start).toBeLessThanOrEqual(ms);
        expect(ms).toBeLessThan(nextDayMs(ms, name));
        expect(dayStartMs(start, name)).toBe(start);
      }),
      { seed: 7, numRuns: 150 },
    );
  });
});

describe('a local moment in a field', () => {
  it('comes back as it was written, in any zone and at any time', () => {
    const zones = fc.constantFrom('UTC', 'America/New_York', 'Europe/Lisbon', 'Asia/Kathmandu', 'Australia/Lord_Howe');
    fc.assert(
      fc.property(zones, fc.integer({ min: 0, max: 60_000_000 }), (zone, minutes) => {
        const text = wallText(minutes * 60_000, zone);
        const found = wallMs(text, zone);
        expect(found === undefined ? undefined : wallText(found, zone)).toBe(text);
      }),
    );
  });

  it('means the first of an hour that comes twice, and reads a skipped one by the clock before the jump', () => {
    // New York 2026: 8 March 02:00 becomes 03:00, 1 November 02:00 becomes 01:00. [IANA tz, America/New_York]
    expect(wallMs('2026-11-01T01:30', 'America/New_York')).toBe(at(2026, 10, 1, 5, 30));
    expect(wallMs('2026-03-08T02:30', 'America/New_York')).toBe(at(2026, 2, 8, 7, 30));
  });

  it('is nothing when it is no moment', () => {
    for (const text of ['', 'yesterday', '2026-02-30T10:00', '2026-01-01', '2026-01-01T25:00'])
      expect(wallMs(text, 'UTC'), text).toBeUndefined();
  });
});
