import { expect, test } from 'vitest';
import { emptyFolder, HOUR_MS, landing, openedIn, openedJournal, reading, START_MS } from './opened.js';

test('a beat after a landing says that the gateway lived then; an idle one says so every ten seconds', () => {
  const journal = openedJournal();
  journal.runs.start(START_MS);
  const alive = (afterMs: number) => {
    journal.beat(START_MS + afterMs);
    return (journal.runs.newest()?.aliveMs ?? 0) - START_MS;
  };
  expect([alive(1_000), alive(2_000), alive(10_999), alive(11_000)]).toEqual([1_000, 1_000, 1_000, 11_000]);
  journal.land(landing({ readings: [reading({ deviceMs: START_MS })] }));
  expect(alive(12_000)).toBe(12_000);
});

test('beats compute the hours that have ended, a few at a time', () => {
  const journal = openedJournal();
  journal.runs.start(START_MS);
  const hours = Array.from({ length: 45 }, (_, n) => reading({ deviceMs: START_MS + n * HOUR_MS }));
  journal.land(landing({ readings: hours }));
  const computed = () => hours.filter((_, n) => !journal.rollups.isMarked(1, START_MS / HOUR_MS + n)).length;
  const afterBeats = Array.from({ length: 4 }, () => {
    journal.beat(START_MS + 44.5 * HOUR_MS);
    return computed();
  });
  expect(afterBeats).toEqual([20, 40, 44, 44]);
});

test('each start is a run of its own, and only changes of the broker link are kept', () => {
  const folder = emptyFolder();
  const journal = openedIn(folder);
  journal.runs.start(START_MS);
  journal.beat(START_MS + 5_000);
  journal.runs.keepLink({ broker: 'up', atMs: START_MS + 1 });
  journal.runs.keepLink({ broker: 'up', atMs: START_MS + 2 });
  journal.close();
  const again = openedIn(folder);
  expect(again.runs.newest()).toEqual({ startMs: START_MS, aliveMs: START_MS + 5_000 });
  expect(again.runs.link()).toEqual({ broker: 'up', atMs: START_MS + 1 });
  again.runs.start(START_MS + 60_000);
  again.runs.keepLink({ broker: 'down', atMs: START_MS + 60_001, reason: 'ECONNREFUSED' });
  expect(again.runs.newest()).toEqual({ startMs: START_MS + 60_000, aliveMs: START_MS + 60_000 });
  expect(again.runs.link()).toEqual({ broker: 'down', atMs: START_MS + 60_001, reason: 'ECONNREFUSED' });
  again.close();
});
