import { describe, expect, test } from 'vitest';
import { type CourseDraft, courseOfDraft, draftOf, newPoint } from '../../dashboard/state/course-form.js';
import type { Course, Place } from '../../rules/place.js';
import { confirmedPlace, withCourse } from '../../rules/stage/confirm.js';
import { legsOf } from '../../rules/stage/course.js';
import { courseOf } from '../../rules/stage/wants.js';
import { legWords, tooFastSentence } from '../../rules/words/course.js';
import type { Reader } from '../../rules/words/language.js';
import { tank } from '../support/hatchery.js';

const DAY = 86_400_000;
const MONDAY = Date.UTC(2026, 4, 4, 8);
const CELSIUS: Reader = { zone: 'Europe/Lisbon', temperatureUnit: 'C', hours: 24 };
const FAHRENHEIT: Reader = { ...CELSIUS, temperatureUnit: 'F', decimalMark: 'comma' };
const NOW = { atMs: MONDAY };

const SCHEDULE: Course = {
  kind: 'schedule',
  points: [
    { atMs: MONDAY + 12_345, target: 18.123 },
    { atMs: MONDAY + 6 * DAY, target: 24 },
  ],
  within: 1 / 3,
};
const FOLLOWS: Course = { kind: 'follows', placeId: 'intake', offset: -1.2345, within: 0.7 };

/** A form in which somebody typed dates and targets. */
const typed = (rows: readonly (readonly [when: string, target: string])[], within = '1', reader = CELSIUS) => {
  const draft = draftOf('temperature', undefined, reader, NOW);
  draft.way.value = 'schedule';
  draft.points.value = rows.map(([when, target]) => newPoint(when, target));
  draft.within.value = within;
  return draft;
};
const faultsOf = (draft: CourseDraft, reader = CELSIUS): Readonly<Record<string, string>> => {
  const made = courseOfDraft(draft, reader);
  return made.ok ? {} : Object.fromEntries(made.fault.map(({ field, detail }) => [field, detail]));
};

describe('the form of a target that moves', () => {
  test.each([CELSIUS, FAHRENHEIT])('opened and kept unchanged is the same to the last digit', (reader) => {
    for (const course of [SCHEDULE, FOLLOWS, undefined])
      expect(courseOfDraft(draftOf('temperature', course, reader, NOW), reader)).toEqual({ ok: true, value: course });
  });

  test('reads dates by the clock of the site; a row left empty is left out', () => {
    const draft = typed([
      ['2026-05-04T09:00', '18'],
      ['', ''],
      ['2026-05-10T09:00', '24'],
    ]);
    const points = [
      { atMs: MONDAY, target: 18 },
      { atMs: MONDAY + 6 * DAY, target: 24 },
    ];
    expect(courseOfDraft(draft, CELSIUS)).toEqual({ ok: true, value: { kind: 'schedule', points, within: 1 } });
  });

  test('takes °F with a comma: a target with the 32, a band and an offset without it', () => {
    const dates = [
      ['2026-05-04T09:00', '64,4'],
      ['2026-05-10T09:00', '75,2'],
    ] as const;
    const made = courseOfDraft(typed(dates, '1,8', FAHRENHEIT), FAHRENHEIT);
    // (64.4 − 32) × 5/9 = 18, (75.2 − 32) × 5/9 = 24; a difference of 1.8 °F is 1 °C.
    const value = made.ok && made.value?.kind === 'schedule' ? made.value : undefined;
    expect(value?.points.map(({ target }) => target)).toEqual([expect.closeTo(18, 9), expect.closeTo(24, 9)]);
    expect(value?.within).toBeCloseTo(1, 9);
    const follows = draftOf('temperature', undefined, FAHRENHEIT, NOW);
    follows.way.value = 'follows';
    follows.placeId.value = 'intake';
    follows.offset.value = '-3,6';
    follows.within.value = '0,9';
    const after = courseOfDraft(follows, FAHRENHEIT);
    const offset = after.ok && after.value?.kind === 'follows' ? after.value.offset : undefined;
    expect(offset).toBeCloseTo(-2, 9);
  });

  test('says beside its field what cannot be', () => {
    const late = '2026-05-10T09:00';
    const falling = faultsOf(
      typed([
        [late, '18'],
        ['2026-05-04T09:00', '24'],
      ]),
    );
    expect(falling).toEqual({ 'when 1': 'This must be later than Sun 10 May, 09:00, the date before it.' });
    expect(
      Object.keys(
        faultsOf(
          typed([
            [late, '18'],
            ['', ''],
          ]),
        ),
      ),
    ).toEqual(['when 1']);
    const half = faultsOf(
      typed([
        [late, ''],
        ['', 'warm'],
      ]),
    );
    expect(half['target 0']).toBe('Which target? As in 18.5.');
    expect(half['when 1']).toBe('From when on? Choose a day and a time.');
    expect(half['target 1']).toBe('“warm” is not a number: write digits only, as in 12.5.');
  });

  test.each(['0', '-1', '', 'wide'])('refuses “%s” as a band', (within) => {
    const rows = [
      ['2026-05-04T09:00', '18'],
      ['2026-05-10T09:00', '24'],
    ] as const;
    expect(Object.keys(faultsOf(typed(rows, within)))).toEqual(['within']);
  });

  test('asks whom it follows, and how much above', () => {
    const draft = draftOf('salinity', undefined, CELSIUS, NOW);
    draft.way.value = 'follows';
    draft.offset.value = '';
    expect(Object.keys(faultsOf(draft))).toEqual(['placeId', 'offset', 'within']);
  });
});

const FIRST = { from: { atMs: MONDAY, target: 18 }, to: { atMs: MONDAY + 6 * DAY, target: 24 }, perHour: 6 / 144 };

describe('a course among the settings of a tank', () => {
  test('belongs to the stage, survives a look at the lines, and is gone when the target stays', () => {
    const set = withCourse(tank('l1'), 'temperature', SCHEDULE);
    expect(set.wants).toBeUndefined();
    expect(courseOf(set, 'temperature')).toEqual(SCHEDULE);
    expect(courseOf({ ...set, stage: 'setting' }, 'temperature')).toBeUndefined();
    const looked = confirmedPlace(set, { temperature: { limitHigh: 29 } });
    expect(courseOf(looked, 'temperature')).toEqual(SCHEDULE);
    expect(courseOf(withCourse(looked, 'temperature', undefined), 'temperature')).toBeUndefined();
  });

  test('that was set for every stage is changed and taken back there', () => {
    const all: Place = tank('l1', { wants: { temperature: { limitLow: 9, course: FOLLOWS } } });
    const changed = withCourse(all, 'temperature', SCHEDULE);
    expect(changed).toEqual({ ...all, wants: { temperature: { limitLow: 9, course: SCHEDULE } } });
    expect(withCourse(changed, 'temperature', undefined).wants).toEqual({ temperature: { limitLow: 9 } });
  });

  test('is said in words: how fast it goes, and how fast is too fast', () => {
    const points = [
      { atMs: MONDAY, target: 18 },
      { atMs: MONDAY + 6 * DAY, target: 24 },
      { atMs: MONDAY + 6 * DAY + 7_200_000, target: 18 },
    ];
    // 6 °C within six days and 6 °C within two hours; × 1.8 in °F.
    expect(legsOf(points).map((leg) => legWords('temperature', leg, CELSIUS))).toEqual([
      '18 °C on Mon 4 May, 09:00 → 24 °C on Sun 10 May, 09:00: 1.0 °C a day',
      '24 °C on Sun 10 May, 09:00 → 18 °C on Sun 10 May, 11:00: 3.0 °C an hour',
    ]);
    expect(legWords('temperature', FIRST, FAHRENHEIT)).toMatch(/1,8 °F a day$/);
    expect(tooFastSentence('temperature', 2, FAHRENHEIT)).toContain('at most 3,6 °F an hour');
  });
});
