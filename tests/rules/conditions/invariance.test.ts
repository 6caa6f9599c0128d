import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Effect } from '../../../rules/engine/effect.js';
import type { Happening } from '../../../rules/engine/happening.js';
import { emptyState, makeSnapshot, parseSnapshot } from '../../../rules/engine/state.js';
import { step, stepAll } from '../../../rules/engine.js';
import type { Place } from '../../../rules/place.js';
import { alarmChanges, replay } from '../../../rules/replay.js';
import { WORK_KINDS } from '../../../rules/work.js';
import { larvae, MINUTE, NIGHT_MS, site, WATER } from '../../support/watch.js';

const SEED = 20260505;
const place = (id: string, kind: Place['kind']): Place => ({ id, kind, name: id, order: 9 });
const SETTINGS = site(
  [
    place('north', 'line'),
    place('air-a', 'air-main'),
    larvae('l1', { lineId: 'north', airMainId: 'air-a', regime: 'flow-through' }),
    larvae('l2', { lineId: 'north', airMainId: 'air-a', bed: { kind: 'sand', depthM: 0.1 } }),
  ],
  {
    'air-a': { probes: ['contact'] },
    l1: { probes: [...WATER, 'level'], board: 'b1' },
    l2: { probes: WATER, board: 'b2' },
  },
);
const LEVELS = [0, 1, 0.1, 4, 5.5, 6.8, 24, 25.2, 26.4, 28.6, 30.5, 31];

/** Hours in which anything may happen at any time: readings, work, boards, links, people, hands. */
const anyHappening = fc.oneof(
  {
    weight: 12,
    arbitrary: fc.record({
      kind: fc.constant('reading' as const),
      sourceId: fc.integer({ min: 1, max: 8 }),
      raw: fc.constantFrom(...LEVELS),
    }),
  },
  {
    weight: 1,
    arbitrary: fc.record({
      kind: fc.constant('board' as const),
      board: fc.constantFrom('b1', 'b2'),
      state: fc.constantFrom('online' as const, 'offline' as const),
    }),
  },
  {
    weight: 1,
    arbitrary: fc.record({
      kind: fc.constant('link' as const),
      broker: fc.constantFrom('up' as const, 'down' as const),
    }),
  },
  { weight: 1, arbitrary: fc.record({ kind: fc.constant('presence' as const), onSite: fc.boolean() }) },
  {
    weight: 1,
    arbitrary: fc.record({
      kind: fc.constant('hand' as const),
      placeId: fc.constantFrom('l1', 'l2'),
      quantity: fc.constantFrom('temperature' as const, 'salinity' as const),
      value: fc.constantFrom(24, 31),
    }),
  },
  {
    weight: 1,
    arbitrary: fc.record({
      kind: fc.constant('work' as const),
      of: fc.constantFrom(...WORK_KINDS),
      placeId: fc.constantFrom('l1', 'l2', 'north'),
      minutes: fc.integer({ min: 1, max: 90 }),
    }),
  },
);

const anyNight = fc
  .array(
    fc.record({ afterMs: fc.oneof(fc.constant(20_000), fc.integer({ min: 0, max: 240_000 })), what: anyHappening }),
    {
      minLength: 20,
      maxLength: 160,
    },
  )
  .map((steps) => {
    let atMs = NIGHT_MS;
    return steps.map(({ afterMs, what }): Happening => {
      atMs += afterMs;
      if (what.kind !== 'work') return { ...what, atMs };
      const { of: kind, placeId, minutes } = what;
      const work = { id: `w${atMs}`, kind, placeId, by: 'Ines', fromMs: atMs, untilMs: atMs + minutes * MINUTE };
      return { kind: 'work', atMs, work: [work] };
    });
  });

const begin = () =>
  replay(emptyState(SETTINGS, NIGHT_MS), [
    { kind: 'hatchery', atMs: NIGHT_MS, hatchery: SETTINGS },
    { kind: 'start', atMs: NIGHT_MS },
  ]).state;

const oneByOne = (happenings: readonly Happening[]) => {
  let state = begin();
  const effects: Effect[] = [];
  for (const happening of happenings) {
    const done = step(state, happening);
    state = done.state;
    effects.push(...done.effects);
  }
  return { state, effects };
};

describe('every condition together gives the same alarms and scores', () => {
  test('in groups, and however often anybody looks at the clock', () => {
    fc.assert(
      fc.property(anyNight, fc.integer({ min: 700, max: 50_000 }), (happenings, everyMs) => {
        const single = oneByOne(happenings);
        const group = stepAll(begin(), happenings);
        expect(group.effects).toEqual(single.effects);
        expect(group.state).toEqual(single.state);
        let nextMs = NIGHT_MS;
        const ticked = happenings.flatMap((happening) => {
          const ticks: Happening[] = [];
          for (; nextMs <= happening.atMs; nextMs += everyMs) ticks.push({ kind: 'tick', atMs: nextMs });
          return [...ticks, happening];
        });
        expect(alarmChanges(oneByOne(ticked).effects)).toEqual(alarmChanges(single.effects));
      }),
      { seed: SEED, numRuns: 60 },
    );
  });

  test('over a restart from a snapshot at any moment', () => {
    fc.assert(
      fc.property(anyNight, fc.nat(), (happenings, at) => {
        const cut = at % (happenings.length + 1);
        const before = replay(begin(), happenings.slice(0, cut));
        const restored = parseSnapshot(makeSnapshot(before.state));
        if (restored === undefined) throw new Error('a snapshot of this version must be understood');
        const after = replay(restored, happenings.slice(cut));
        expect([...before.effects, ...after.effects]).toEqual(oneByOne(happenings).effects);
      }),
      { seed: SEED, numRuns: 60 },
    );
  });

  test('and no number in a finding is anything but a number', () => {
    fc.assert(
      fc.property(anyNight, (happenings) => {
        for (const effect of oneByOne(happenings).effects) {
          if (effect.do !== 'alarm') continue;
          const numbers = JSON.stringify(effect.alarm.finding, (_, value: unknown) =>
            typeof value === 'number' && !Number.isFinite(value) ? 'broken' : value,
          );
          expect(numbers).not.toContain('broken');
        }
      }),
      { seed: SEED, numRuns: 60 },
    );
  });
});
