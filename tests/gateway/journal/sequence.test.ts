import { describe, expect, test } from 'vitest';
import { alarm, emptyFolder, landing, openedIn, openedJournal, START_MS } from './opened.js';

const entry = (id: string, atMs = START_MS) =>
  ({ id, atMs, recordedMs: START_MS + 60_000, kind: 'feed', placeId: 'l2', by: 'Tomé', body: { mL: 400 } }) as const;

describe('the journal sequence', () => {
  test('is one growing number over alarms, log and settings, and goes on after a restart', () => {
    const folder = emptyFolder();
    const journal = openedIn(folder);
    const { id: sourceId } = journal.sources.ensure({ key: 'k', topic: 'k', firstSeenMs: START_MS });
    journal.land(landing({ alarms: [{ atMs: START_MS, alarm: alarm('a'), event: 'cond-on' }] }));
    journal.log.add(entry('01J0000000000000000000000A'));
    journal.mappings.name(
      { sourceId, channelId: 'l2.temperature', unit: 'degC', fromMs: 0, ruling: true },
      'Inês',
      START_MS,
    );
    journal.close();
    const again = openedIn(folder);
    again.calibrations.add({ sourceId, fromMs: 0, slope: 1, offset: 0.1 }, 'Inês', START_MS);
    again.settings.put({
      entity: 'site',
      id: 's',
      effectiveMs: 0,
      recordedMs: 9,
      by: 'Inês',
      body: {},
      expectedVersion: 0,
    });
    expect(
      again.changesSince(0).map((change) => [change.sequence, change.kind === 'settings' ? change.what : change.kind]),
    ).toEqual([
      [1, 'alarm'],
      [2, 'log'],
      [3, `mapping/${sourceId}`],
      [4, `calibration/${sourceId}`],
      [5, 'site/s'],
    ]);
    expect(again.changesSince(3)).toHaveLength(2);
    expect(again.changesSince(0, 2).map(({ sequence }) => sequence)).toEqual([1, 2]);
    expect(again.sequence()).toBe(5);
    again.close();
  });

  test('a change is replayed as it was told when it happened', () => {
    const journal = openedJournal();
    const told = journal.land(
      landing({
        alarms: ['cond-on', 'ack'].map((event, n) => ({
          atMs: START_MS + n,
          alarm: alarm('a', { changedMs: START_MS + n }),
          event,
        })),
      }),
    ).changes;
    expect(journal.changesSince(0)).toEqual(told);
  });
});

describe('the log', () => {
  test('an entry that is sent twice is kept once', () => {
    const journal = openedJournal();
    expect(journal.log.add(entry('01J0000000000000000000000A'))).toMatchObject({ kind: 'log', sequence: 1 });
    expect(journal.log.add(entry('01J0000000000000000000000A'))).toBeUndefined();
    expect(journal.log.byId('01J0000000000000000000000A')).toEqual(entry('01J0000000000000000000000A'));
    expect(journal.sequence()).toBe(1);
  });

  test('lists a span with its start and without its end, of one place or of all', () => {
    const journal = openedJournal();
    for (const n of [2, 0, 1]) journal.log.add(entry(`01J000000000000000000000${n}A`, START_MS + n));
    expect(journal.log.between(START_MS, START_MS + 2).map(({ atMs }) => atMs - START_MS)).toEqual([0, 1]);
    expect(journal.log.between(START_MS, START_MS + 9, 'l2')).toHaveLength(3);
    expect(journal.log.between(START_MS, START_MS + 9, 'l3')).toEqual([]);
  });
});

describe('alarms', () => {
  const land = (
    journal: ReturnType<typeof openedJournal>,
    id: string,
    event: string,
    part: Parameters<typeof alarm>[1] = {},
  ) =>
    journal.land(
      landing({ alarms: [{ atMs: part.changedMs ?? START_MS, alarm: alarm(id, part), event, by: 'Tomé' }] }),
    );

  test('an alarm is open until it is normal, and a shelved one stays open', () => {
    const journal = openedJournal();
    land(journal, 'a', 'cond-on');
    land(journal, 'b', 'cond-on', { activatedMs: START_MS - 1 });
    land(journal, 'c', 'shelve', { state: 'normal', inhibit: 'shelved', activatedMs: START_MS + 1 });
    expect(journal.alarms.open().map(({ id }) => id)).toEqual(['b', 'a', 'c']);
    land(journal, 'a', 'cond-off', { state: 'normal', changedMs: START_MS + 5 });
    land(journal, 'b', 'retired', { state: 'unack', changedMs: START_MS + 5, activatedMs: START_MS - 1 });
    expect(journal.alarms.open().map(({ id }) => id)).toEqual(['c']);
    expect(journal.alarms.byId('a')?.state).toBe('normal');
  });

  test('its changes are all kept, with who did them', () => {
    const journal = openedJournal();
    land(journal, 'a', 'cond-on');
    land(journal, 'a', 'ack', { state: 'ack', changedMs: START_MS + 3 });
    expect(journal.alarms.changesOf('a')).toMatchObject([
      { event: 'cond-on', sequence: 1 },
      { event: 'ack', sequence: 2, by: 'Tomé', alarm: { state: 'ack' } },
    ]);
    expect(journal.alarms.changesBetween(START_MS + 1, START_MS + 4)).toHaveLength(1);
  });

  test('a span shows what was open in any part of it', () => {
    const journal = openedJournal();
    land(journal, 'ended before', 'cond-off', { state: 'normal', activatedMs: START_MS, changedMs: START_MS + 10 });
    land(journal, 'ended inside', 'cond-off', { state: 'normal', activatedMs: START_MS, changedMs: START_MS + 25 });
    land(journal, 'still open', 'cond-on', { activatedMs: START_MS + 1, changedMs: START_MS + 1 });
    land(journal, 'later', 'cond-on', { activatedMs: START_MS + 30, changedMs: START_MS + 30 });
    expect(journal.alarms.between(START_MS + 20, START_MS + 30).map(({ id }) => id)).toEqual([
      'ended inside',
      'still open',
    ]);
  });
});
