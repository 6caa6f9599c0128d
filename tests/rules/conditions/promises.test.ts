import { describe, expect, test } from 'vitest';
import { type Courses, type Watch, watch } from '../../support/watch.js';
import { SCENARIOS, type Scenario } from './scenarios.js';

const holds = (watched: Watch, { code, subject }: Scenario): boolean => watched.holds().includes(`${code} ${subject}`);

const begun = ({ settings, calm }: Scenario, courses: Courses = {}): Watch => {
  const watched = watch(settings);
  watched.lives(calm, courses);
  return watched;
};

/** The floor is dry until it is not. */
const QUIET: { readonly [code: string]: Courses } = { 'wet-floor': {} };

describe.each(SCENARIOS)('$code', (scenario) => {
  const { code, trouble, mended, calm, eye, settings } = scenario;

  test('is not there in calm water, and is found when it comes', () => {
    const watched = begun(scenario, QUIET[code]);
    expect(holds(watched, scenario)).toBe(false);
    watched.lives(trouble.minutes, trouble.courses);
    expect(holds(watched, scenario)).toBe(true);
  });

  test('ends when it is mended', () => {
    const watched = begun(scenario);
    watched.lives(trouble.minutes, trouble.courses);
    watched.lives(mended.minutes, mended.courses);
    expect(holds(watched, scenario)).toBe(false);
  });

  test('is found all the same after a gap in the record', () => {
    const watched = begun(scenario);
    const silence = Object.fromEntries(settings.mappings.map(({ channelId }) => [channelId, undefined]));
    watched.lives(12, silence);
    watched.lives(30, calm === 0 ? { 'l1.contact.wet-floor': 0 } : {});
    watched.lives(trouble.minutes, trouble.courses);
    expect(holds(watched, scenario)).toBe(true);
  });

  test('is found at the same moment whenever the program was restarted', () => {
    const straight = begun(scenario);
    straight.lives(trouble.minutes, trouble.courses);
    const broken = begun(scenario);
    for (let minute = 0; minute < trouble.minutes; minute += 1) {
      broken.lives(1, shifted(trouble.courses, minute));
      if (minute % 7 === 3) broken.restarts();
    }
    expect(broken.calls()).toEqual(straight.calls());
    expect(holds(broken, scenario)).toBe(true);
  });

  test.runIf(eye !== undefined)('is not invented by a probe that stands still', () => {
    const watched = begun(scenario);
    const index = watched.state().plan.channelOf.get(eye ?? '') ?? -1;
    const value = watched.state().channels[index]?.value;
    const stuck = eye === undefined ? {} : { [eye]: value };
    watched.lives(Math.max(90, trouble.minutes), stuck, new Set(eye === undefined ? [] : [eye]));
    expect(holds(watched, scenario)).toBe(false);
  });
});

/** The same courses, begun so many minutes ago. */
function shifted(courses: Courses, minutes: number): Courses {
  return Object.fromEntries(
    Object.entries(courses).map(([id, course]) => [
      id,
      typeof course === 'function' ? (minute: number) => course(minute + minutes) : course,
    ]),
  );
}
