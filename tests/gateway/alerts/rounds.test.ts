import { expect, onTestFinished, test } from 'vitest';
import { type RoundsParts, startRounds } from '../../../gateway/alerts/rounds.js';
import type { MorningReport } from '../../../rules/alerts/morning.js';
import { NO_WATCH, type WatchPlan } from '../../../rules/alerts/watch-plan.js';
import { emptyState } from '../../../rules/engine/state.js';
import { openAlertRoom } from '../../support/alert-room.js';
import { hatchery } from '../../support/hatchery.js';
import { NIGHT_MS } from '../../support/ladder-night.js';
import { ALWAYS, PEOPLE } from '../../support/people.js';
import { emptyFolder } from '../journal/opened.js';

const HOUR_MS = 3_600_000;
const report: MorningReport = {
  fromMs: NIGHT_MS,
  toMs: NIGHT_MS + HOUR_MS,
  rows: [
    {
      placeId: 'l2',
      outsideTargetMs: 0,
      outsideLimitMs: 20 * 60_000,
      silentMs: 0,
      lowestOxygen: { value: 61, atMs: NIGHT_MS },
    },
  ],
  wakings: [],
  forecasts: [],
  overdue: [],
  notWatched: [],
  lacks: [],
};

const roundsRoom = (plan: WatchPlan = ALWAYS, more: Partial<RoundsParts> = {}) => {
  const room = openAlertRoom(emptyFolder(), { plan });
  const site = hatchery();
  const state = { ...emptyState(site, NIGHT_MS), hatchery: { ...site, site: { ...site.site, zone: 'UTC' } } };
  const { journal, clock, alerts } = room;
  onTestFinished(
    startRounds({ journal, clock, alerts, state: () => state, reports: { morning: async () => report }, ...more }),
  );
  return room;
};

test('the morning report goes by mail at the hour of the morning round, once, to who had the watch and to managers', async () => {
  const room = roundsRoom();
  await room.passes(4 * 60 + 49);
  expect(room.said).toEqual([]);
  await room.passes(5);
  expect(room.said.map(({ way, person }) => `${way} ${person}`).sort()).toEqual(['email asta', 'email cora']);
  expect(room.said[0]?.title).toBe('The night: 1 of 1 tanks outside a limit');
});

test('that nobody will be on call is told to the managers beforehand, once', async () => {
  const room = roundsRoom({ ...NO_WATCH, dayFromMinute: 0, dayToMinute: 0 });
  await room.passes(3);
  const told = room.said.filter(({ title }) => title.startsWith('Nobody is on call'));
  expect(told.map(({ person }) => person)).toEqual(expect.arrayContaining(['cora']));
  expect(told.every(({ person }) => person === PEOPLE[2]?.id)).toBe(true);
});

test('a check-in outside that fails is told by day, once, to who is on call and to managers; by night nobody is called for it', async () => {
  const checkIn = () => ({ failures: () => 200, failingSinceMs: () => NIGHT_MS - HOUR_MS, stop: () => undefined });
  const room = roundsRoom(ALWAYS, { checkIn });
  await room.passes(60);
  expect(room.said).toEqual([]);
  room.clock.passes(5 * HOUR_MS);
  await room.passes(5);
  const told = room.said.filter(({ title }) => title.startsWith('The check-in outside fails since'));
  expect(told.map(({ way, person }) => `${way} ${person}`).sort()).toEqual([
    'email asta',
    'email cora',
    'push asta',
    'push cora',
    'text asta',
    'text cora',
  ]);
});

test('everybody is test-called at the hour of the week that is set, once', async () => {
  const drills: string[] = [];
  // 2026-05-04 is a Monday.
  const room = roundsRoom(
    { ...ALWAYS, drill: { weekday: 1, minute: 2 * 60 + 15 } },
    {
      drill: (by) => {
        drills.push(by);
        const deed = { what: 'drilled', personId: 'asta', ways: ['push'] } as const;
        const atMs = room.clock.now();
        room.journal.wakings.add({ atMs, recordedMs: atMs, faultId: 'drill', placeId: '', by, deed });
      },
    },
  );
  await room.passes(4);
  expect(drills).toEqual([]);
  await room.passes(30);
  expect(drills).toEqual(['Nightwater']);
});
