import { describe, expect, test } from 'vitest';
import { KEPT_MESSAGES } from '../../../gateway/journal/malformed.js';
import { FLAG } from '../../../rules/quality/flag.js';
import { verdictFromFlags } from '../../../rules/quality/packed.js';
import { isUsable } from '../../../rules/quality/verdict.js';
import { alarm, DRY, emptyFolder, landing, openedIn, openedJournal, reading, START_MS } from './opened.js';

const stored = (journal: ReturnType<typeof openedJournal>) => journal.readings.between(1, 0, Number.MAX_SAFE_INTEGER);

describe('readings', () => {
  test('a reading comes back as it was kept, with its arrival and the stamp that was not believed', () => {
    const journal = openedJournal();
    const kept = reading({ deviceMs: START_MS, arrivalMs: START_MS + 7, raw: 18.123456789, refusedMs: 12 });
    journal.land(landing({ readings: [kept] }));
    expect(stored(journal)).toEqual([{ ...kept, variant: 0 }]);
  });

  test('zero and whole numbers are kept as they are', () => {
    const journal = openedJournal();
    journal.land(
      landing({ readings: [reading({ deviceMs: START_MS, raw: 0 }), reading({ deviceMs: START_MS + 1, raw: -4 })] }),
    );
    expect(stored(journal).map(({ raw }) => raw)).toEqual([0, -4]);
  });

  test('the same group landing twice changes nothing', () => {
    const journal = openedJournal();
    const group = landing({ readings: [0, 1, 2].map((n) => reading({ deviceMs: START_MS + n, raw: n })) });
    journal.land(group);
    const before = stored(journal);
    expect(journal.land(group)).toEqual({ changes: [], variants: 0, repeats: 3 });
    expect(stored(journal)).toEqual(before);
    expect([...journal.tailSince(undefined)]).toHaveLength(3);
  });

  test('another value at the same millisecond is kept beside the first, suspect but still water', () => {
    const journal = openedJournal();
    const values = [18.5, 19.5, 18.5, 20.5, 19.5];
    const landed = journal.land(landing({ readings: values.map((raw) => reading({ deviceMs: START_MS, raw })) }));
    expect(landed).toMatchObject({ variants: 2, repeats: 2 });
    expect(stored(journal).map(({ variant, raw }) => [variant, raw])).toEqual([
      [0, 18.5],
      [1, 19.5],
      [2, 20.5],
    ]);
    const [first, second] = stored(journal).map(({ flags }) => verdictFromFlags(flags));
    expect(first?.flag).toBe(FLAG.pass);
    expect(second?.flag).toBe(FLAG.suspect);
    expect(second !== undefined && isUsable(second)).toBe(true);
  });

  test('a changed verdict replaces the flags and leaves the value', () => {
    const journal = openedJournal();
    journal.land(landing({ readings: [reading({ deviceMs: START_MS })] }));
    journal.land(landing({ revisions: [{ sourceId: 1, deviceMs: START_MS, flags: DRY }] }));
    expect(stored(journal)).toMatchObject([{ raw: 18.5, flags: DRY }]);
  });

  test('a group that cannot be kept leaves nothing behind, in the file or in memory', () => {
    const journal = openedJournal();
    const bad = landing({
      readings: [reading({ deviceMs: START_MS }), reading({ deviceMs: START_MS + 1, raw: Number.NaN })],
      alarms: [],
    });
    expect(() => journal.land(bad)).toThrow();
    expect(stored(journal)).toEqual([]);
    expect(journal.rollups.isMarked(1, Math.floor(START_MS / 3_600_000))).toBe(false);
    journal.land(
      landing({
        readings: [reading({ deviceMs: START_MS })],
        alarms: [{ atMs: START_MS, alarm: alarm('a'), event: 'cond-on' }],
      }),
    );
    expect(journal.rollups.isMarked(1, Math.floor(START_MS / 3_600_000))).toBe(true);
    expect(journal.changesSince(0).map(({ sequence }) => sequence)).toEqual([1]);
  });

  test('what no snapshot remembers comes back in order of device time', () => {
    const journal = openedJournal();
    for (const key of ['tanks/l1/temperature', 'tanks/l2/temperature'])
      journal.sources.ensure({ key, topic: key, firstSeenMs: START_MS });
    const kept = Array.from({ length: 200 }, (_, n) =>
      reading({ sourceId: 1 + (n % 2), deviceMs: START_MS + n * 10_000, arrivalMs: START_MS + n * 10_000 + 5 }),
    );
    journal.land(landing({ readings: kept.toReversed() }));
    expect([...journal.readings.since(START_MS + 100_000)].map(({ arrivalMs }) => arrivalMs)).toEqual(
      kept.slice(10).map(({ arrivalMs }) => arrivalMs),
    );
  });
});

describe('snapshot and tail', () => {
  test('the tail is what landed after the snapshot, in landing order, also after a restart', () => {
    const folder = emptyFolder();
    const journal = openedIn(folder);
    journal.land(landing({ readings: [reading({ deviceMs: START_MS + 5 })] }));
    journal.land(
      landing({
        readings: [reading({ deviceMs: START_MS + 6 })],
        alarms: [{ atMs: START_MS, alarm: alarm('a'), event: 'cond-on' }],
        snapshot: { atMs: START_MS + 6, version: 3, body: '{"of":"the engine"}' },
      }),
    );
    const later = [9, 7, 8].map((n) => reading({ deviceMs: START_MS + n, refusedMs: n }));
    for (const one of later) journal.land(landing({ readings: [one] }));
    journal.close();

    const again = openedIn(folder);
    const snapshot = again.snapshot();
    expect(snapshot).toMatchObject({ version: 3, sequence: 1, body: '{"of":"the engine"}', atMs: START_MS + 6 });
    expect([...again.tailSince(snapshot)]).toEqual(later);
    again.land(landing({ readings: [reading({ deviceMs: START_MS + 10 })] }));
    expect([...again.tailSince(snapshot)]).toHaveLength(4);
    again.close();
  });

  test('a newer snapshot takes the place of the older one and empties the tail', () => {
    const journal = openedJournal();
    journal.land(landing({ snapshot: { atMs: START_MS, version: 1, body: 'old' } }));
    journal.land(
      landing({
        readings: [reading({ deviceMs: START_MS })],
        snapshot: { atMs: START_MS + 1, version: 1, body: 'new' },
      }),
    );
    expect(journal.snapshot()?.body).toBe('new');
    expect([...journal.tailSince(journal.snapshot())]).toEqual([]);
  });
});

describe('messages', () => {
  const malformed = (n: number, board?: string) => ({
    atMs: START_MS + n,
    topic: `boards/b/${n}`,
    ...(board === undefined ? {} : { board }),
    code: 'not-a-number',
    parameters: { text: 'warm' },
    payload: new TextEncoder().encode('warm'.repeat(2_000)),
  });

  test('the newest thousand that could not be understood are kept, and all of them are counted', () => {
    const journal = openedJournal();
    for (let group = 0; group < 3; group += 1) {
      journal.land(landing({ malformed: Array.from({ length: 400 }, (_, n) => malformed(group * 400 + n, 'b7')) }));
    }
    journal.land(landing({ malformed: [malformed(1_200)] }));
    expect(journal.malformed.newest(5_000)).toHaveLength(KEPT_MESSAGES);
    expect(journal.malformed.newest(1)).toMatchObject([
      { atMs: START_MS + 1_200, parameters: { text: 'warm' }, bytes: 8_000 },
    ]);
    expect(journal.malformed.newest(1)[0]?.start.length).toBe(4_096);
    expect(journal.malformed.newest(5, 'b7')[0]?.atMs).toBe(START_MS + 1_199);
    expect(journal.malformed.counts()).toEqual(
      new Map([
        ['', 1],
        ['b7', 1_200],
      ]),
    );
  });

  test('a board is kept when it changes, not each time it says the same', () => {
    const journal = openedJournal();
    const board = (state: 'online' | 'offline', n: number) => ({ board: 'b7', state, atMs: START_MS + n });
    for (const change of [board('online', 0), board('online', 1), board('offline', 2), board('online', 3)]) {
      journal.land(landing({ boards: [change] }));
    }
    expect(journal.boards.between(0, Number.MAX_SAFE_INTEGER).map(({ atMs }) => atMs - START_MS)).toEqual([0, 2, 3]);
    expect(journal.boards.list()).toEqual([board('online', 3)]);
  });

  test('the last packet of each id is known after a restart, until the broker says that it kept no session', () => {
    const folder = emptyFolder();
    const journal = openedIn(folder);
    journal.land(
      landing({
        packets: [
          { packetId: 9, fingerprint: 'one' },
          { packetId: 9, fingerprint: 'two' },
        ],
      }),
    );
    journal.close();
    const again = openedIn(folder);
    expect(again.packets.fingerprint(9)).toBe('two');
    again.packets.forgetAll();
    expect(again.packets.fingerprint(9)).toBeUndefined();
    again.close();
  });
});
