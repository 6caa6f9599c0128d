import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Effect } from '../../../rules/engine/effect.js';
import type { Happening } from '../../../rules/engine/happening.js';
import { emptyState, makeSnapshot, parseSnapshot, STATE_VERSION } from '../../../rules/engine/state.js';
import { step, stepAll } from '../../../rules/engine.js';
import { alarmChanges, replay } from '../../../rules/replay.js';
import { hatchery, NOON_MS } from '../../support/hatchery.js';

const SEED = 20260504;
const SETTINGS = hatchery();

const begin = () =>
  replay(emptyState(SETTINGS, NOON_MS), [
    { kind: 'hatchery', atMs: NOON_MS, hatchery: SETTINGS },
    { kind: 'start', atMs: NOON_MS },
  ]).state;

/** Nights of up to an hour: calm and hot water, air at the probe, broken probes, late and repeated stamps, silences. */
const anyNight = fc
  .array(
    fc.record({
      afterMs: fc.oneof(fc.constant(10_000), fc.integer({ min: 0, max: 200_000 })),
      sourceId: fc.constantFrom(11, 12, 13, 21, 22, 99),
      raw: fc.constantFrom(26, 29.9, 30.5, 31, 47.3, 0.05, 6.8, 2, 85, -127),
      behindMs: fc.option(fc.integer({ min: -30_000, max: 400_000 }), { nil: undefined }),
    }),
    { minLength: 1, maxLength: 120 },
  )
  .map((steps) => {
    let atMs = NOON_MS;
    return steps.map(({ afterMs, sourceId, raw, behindMs }): Happening => {
      atMs += afterMs;
      return { kind: 'reading', atMs, sourceId, raw, ...(behindMs === undefined ? {} : { deviceMs: atMs - behindMs }) };
    });
  });

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

const withTicks = (happenings: readonly Happening[], everyMs: number): Happening[] => {
  let nextMs = NOON_MS;
  return happenings.flatMap((happening) => {
    const ticks: Happening[] = [];
    for (; nextMs <= happening.atMs; nextMs += everyMs) ticks.push({ kind: 'tick', atMs: nextMs });
    return [...ticks, happening];
  });
};

describe('the same readings give the same alarms', () => {
  test('however often anybody looks at the clock', () => {
    fc.assert(
      fc.property(anyNight, fc.integer({ min: 500, max: 90_000 }), (happenings, everyMs) => {
        expect(alarmChanges(oneByOne(withTicks(happenings, everyMs)).effects)).toEqual(
          alarmChanges(oneByOne(happenings).effects),
        );
      }),
      { seed: SEED, numRuns: 150 },
    );
  });

  test('one at a time, in groups, or replayed from the record', () => {
    fc.assert(
      fc.property(anyNight, (happenings) => {
        const single = oneByOne(happenings);
        const group = stepAll(begin(), happenings);
        const replayed = replay(begin(), happenings);
        expect(group.effects).toEqual(single.effects);
        expect(replayed.effects).toEqual(single.effects);
        expect(group.state).toEqual(single.state);
      }),
      { seed: SEED, numRuns: 150 },
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
      { seed: SEED, numRuns: 150 },
    );
  });

  test('and stepping leaves the state that it was given as it was', () => {
    fc.assert(
      fc.property(anyNight, (happenings) => {
        const state = begin();
        const before = makeSnapshot(state);
        stepAll(state, happenings);
        expect(makeSnapshot(state)).toBe(before);
      }),
      { seed: SEED, numRuns: 50 },
    );
  });

  test('and no reading is dropped: as many are kept as came', () => {
    fc.assert(
      fc.property(anyNight, (happenings) => {
        expect(oneByOne(happenings).effects.filter((effect) => effect.do === 'keep')).toHaveLength(happenings.length);
      }),
      { seed: SEED, numRuns: 100 },
    );
  });
});

test('a snapshot of another version is not guessed at', () => {
  expect(parseSnapshot(makeSnapshot(begin()).replace(`"version":${STATE_VERSION}`, '"version":0'))).toBeUndefined();
});
