import { describe, expect, test } from 'vitest';
import { landingOf } from '../../gateway/landing-of.js';
import { wakeUp } from '../../gateway/wake-up.js';
import { makeSnapshot, STATE_VERSION } from '../../rules/engine/state.js';
import { openTestJournal } from '../support/gateway-room.js';
import { hatchery, NOON_MS } from '../support/hatchery.js';
import { MINUTE, night } from '../support/night.js';

const alarmsOf = (effects: ReturnType<typeof wakeUp>['effects']): readonly string[] =>
  effects.flatMap((effect) => (effect.do === 'alarm' ? [`${effect.event} ${effect.alarm.id}`] : []));

describe('a gateway that wakes up', () => {
  test('for the first time, with everything named and nothing heard yet, calls nobody', () => {
    const woken = wakeUp(openTestJournal(), { hatchery: hatchery(), work: [], nowMs: NOON_MS });
    expect(alarmsOf(woken.effects)).toEqual([]);
  });

  test.each([8, 120, 3 * 24 * 60])('after %i minutes away calls nobody for the silence of that time', (minutes) => {
    const journal = openTestJournal();
    const before = night();
    before.runs(10);
    const snapshot = { atMs: before.now(), version: STATE_VERSION, body: makeSnapshot(before.state()) };
    journal.land(landingOf([], { snapshot }));
    const nowMs = before.now() + minutes * MINUTE;
    expect(alarmsOf(wakeUp(journal, { hatchery: hatchery(), work: [], nowMs }).effects)).toEqual([]);
  });

  test('lets a delay that was running end at its own time', () => {
    const journal = openTestJournal();
    const before = night();
    before.runs(10);
    before.runs(1, { 11: 40 });
    const snapshot = { atMs: before.now(), version: STATE_VERSION, body: makeSnapshot(before.state()) };
    journal.land(landingOf([], { snapshot }));
    const { effects } = wakeUp(journal, { hatchery: hatchery(), work: [], nowMs: before.now() + 60 * MINUTE });
    const sounded = effects.find((effect) => effect.do === 'alarm' && effect.alarm.subject === 'l1.temperature');
    expect(sounded).toMatchObject({
      atMs: NOON_MS + 10 * MINUTE + 10_000 + 2 * MINUTE,
      event: 'cond-on',
      alarm: { finding: { condition: 'above-limit' } },
    });
  });
});
