import { describe, expect, test } from 'vitest';
import { CONDITION_CODES } from '../../../rules/conditions/finding.js';
import type { Watch } from '../../support/watch.js';
import { begun, lived, type Scenario } from './scenario.js';
import { SCENARIOS } from './scenarios.js';

const holds = (watched: Watch, { code, subject }: Scenario): boolean => watched.holds().includes(`${code} ${subject}`);

test('every condition makes its promises', () => {
  expect(SCENARIOS.map(({ code }) => code).sort()).toEqual([...CONDITION_CODES].sort());
});

describe.each(SCENARIOS)('$code', (scenario) => {
  const { trouble, mended, quiet, settings } = scenario;

  test('is not there in calm water, and is found when it comes', () => {
    const watched = begun(scenario);
    expect(holds(watched, scenario)).toBe(false);
    lived(watched, trouble);
    expect(holds(watched, scenario)).toBe(true);
  });

  test('ends when it is mended', () => {
    const watched = begun(scenario);
    lived(watched, trouble);
    lived(watched, mended);
    expect(holds(watched, scenario)).toBe(false);
  });

  test('is found all the same after a gap in the record', () => {
    const watched = begun(scenario);
    const silence = Object.fromEntries(settings.mappings.map(({ channelId }) => [channelId, undefined]));
    watched.lives(12, silence);
    watched.lives(30, quiet);
    lived(watched, trouble);
    expect(holds(watched, scenario)).toBe(true);
  });

  test('is found at the same moment whenever the program was restarted', () => {
    const straight = begun(scenario);
    lived(straight, trouble);
    const broken = begun(scenario);
    lived(broken, trouble, (minute) => {
      if (minute % 7 === 3) broken.restarts();
    });
    expect(broken.calls()).toEqual(straight.calls());
    expect(holds(broken, scenario)).toBe(true);
  });
});

/** A switch, or a whole line, has no value of its own that could stand still. */
const SEEN = SCENARIOS.flatMap((scenario) => (scenario.eye === undefined ? [] : [{ ...scenario, eye: scenario.eye }]));

test.each(SEEN)('$code is not invented by a probe that stands still', ({ eye, ...scenario }) => {
  const watched = begun(scenario);
  const index = watched.state().plan.channelOf.get(eye) ?? -1;
  const value = watched.state().channels[index]?.value;
  watched.lives(
    Math.min(600, Math.max(90, scenario.trouble.minutes)),
    { ...scenario.quiet, [eye]: value },
    new Set([eye]),
  );
  expect(holds(watched, scenario)).toBe(false);
});
