import { describe, expect, test } from 'vitest';
import { openedJournal, START_MS } from './opened.js';

const DAY_MS = 86_400_000;

const place = (
  journal: ReturnType<typeof openedJournal>,
  body: unknown,
  expectedVersion: number,
  effectiveMs = START_MS,
) =>
  journal.settings.put({
    entity: 'place',
    id: 'l2',
    effectiveMs,
    recordedMs: START_MS + 5 * DAY_MS,
    by: 'Inês',
    body,
    expectedVersion,
  });

describe('settings', () => {
  test('a write that names the version it saw is kept and tells the screens', () => {
    const journal = openedJournal();
    const put = place(journal, { name: 'Larvae 2' }, 0);
    expect(put).toMatchObject({
      ok: true,
      value: { setting: { version: 1 }, change: { sequence: 1, kind: 'settings', what: 'place/l2', by: 'Inês' } },
    });
    expect(place(journal, { name: 'Larvae two' }, 1).ok).toBe(true);
    expect(journal.settings.latest('place', 'l2')).toMatchObject({ version: 2, body: { name: 'Larvae two' } });
  });

  test('a write over what somebody else changed meanwhile is refused and carries what is there', () => {
    const journal = openedJournal();
    place(journal, { name: 'Larvae 2' }, 0);
    const refused = place(journal, { name: 'mine' }, 0);
    expect(refused).toMatchObject({
      ok: false,
      fault: { code: 'conflict', present: { version: 1, body: { name: 'Larvae 2' } } },
    });
    expect(journal.sequence()).toBe(1);
    const unknown = journal.settings.put({
      entity: 'place',
      id: 'l9',
      effectiveMs: 0,
      recordedMs: 0,
      by: 'Inês',
      body: {},
      expectedVersion: 4,
    });
    expect(unknown).toEqual({ ok: false, fault: { code: 'conflict', present: undefined } });
  });

  test('what rules at a moment is what was effective by then, whenever it was written', () => {
    const journal = openedJournal();
    place(journal, 'from day 0', 0);
    place(journal, 'from day 4', 1, START_MS + 4 * DAY_MS);
    place(journal, 'from day 2, written last', 2, START_MS + 2 * DAY_MS);
    const on = (day: number) => journal.settings.ruling('place', 'l2', START_MS + day * DAY_MS)?.body;
    expect([-1, 0, 1, 2, 3, 4, 9].map(on)).toEqual([
      undefined,
      'from day 0',
      'from day 0',
      'from day 2, written last',
      'from day 2, written last',
      'from day 4',
      'from day 4',
    ]);
  });

  test('of two for the same moment the one written later rules', () => {
    const journal = openedJournal();
    place(journal, 'first', 0);
    place(journal, 'second', 1);
    expect(journal.settings.ruling('place', 'l2', START_MS)?.body).toBe('second');
    expect(journal.settings.history('place', 'l2').map(({ body }) => body)).toEqual(['first', 'second']);
  });

  test('a deleted place is no longer listed, and was there before', () => {
    const journal = openedJournal();
    place(journal, { name: 'Larvae 2' }, 0);
    place(journal, null, 1, START_MS + DAY_MS);
    expect(journal.settings.allRuling('place', START_MS)).toHaveLength(1);
    expect(journal.settings.allRuling('place', START_MS + DAY_MS)).toEqual([]);
  });

  test('several writes together are all kept or none', () => {
    const journal = openedJournal();
    const source = journal.sources.ensure({
      key: 'tanks/l2/temperature',
      topic: 'tanks/l2/temperature',
      firstSeenMs: START_MS,
    });
    expect(() =>
      journal.together(() => {
        place(journal, { name: 'Larvae 2' }, 0);
        journal.sources.ensure({ key: 'boards/b7/t', topic: 'boards/b7/t', firstSeenMs: START_MS });
        throw new Error('in the middle');
      }),
    ).toThrow('in the middle');
    expect(journal.settings.latest('place', 'l2')).toBeUndefined();
    expect(journal.sources.list()).toEqual([source]);
    expect(place(journal, {}, 0)).toMatchObject({ value: { change: { sequence: 1 } } });
  });
});

describe('mappings and calibrations', () => {
  const temperature = { unit: 'degC', ruling: true } as const;

  test('a source is a channel until its next row, and nothing after it is released', () => {
    const journal = openedJournal();
    const { id: sourceId } = journal.sources.ensure({ key: 'k', topic: 'k', firstSeenMs: START_MS });
    const name = (channelId: string, fromMs: number) =>
      journal.mappings.name({ sourceId, channelId, fromMs, ...temperature, periodMs: 10_000 }, 'Inês', START_MS);
    name('l2.temperature', START_MS);
    journal.mappings.release(sourceId, START_MS + 2 * DAY_MS, 'Inês', START_MS);
    name('l3.temperature', START_MS + DAY_MS);
    expect(journal.mappings.list()).toEqual([
      {
        sourceId,
        channelId: 'l2.temperature',
        ...temperature,
        periodMs: 10_000,
        fromMs: START_MS,
        toMs: START_MS + DAY_MS,
      },
      {
        sourceId,
        channelId: 'l3.temperature',
        ...temperature,
        periodMs: 10_000,
        fromMs: START_MS + DAY_MS,
        toMs: START_MS + 2 * DAY_MS,
      },
    ]);
  });

  test('a mistake is corrected by naming the source again for the same time', () => {
    const journal = openedJournal();
    const { id: sourceId } = journal.sources.ensure({ key: 'k', topic: 'k', firstSeenMs: START_MS });
    for (const channelId of ['l2.temperature', 'l4.temperature']) {
      journal.mappings.name({ sourceId, channelId, fromMs: START_MS, ...temperature }, 'Inês', START_MS);
    }
    expect(journal.mappings.list()).toEqual([
      { sourceId, channelId: 'l4.temperature', fromMs: START_MS, ...temperature },
    ]);
  });

  test('calibrations are listed by time, the corrected one in place of the mistaken', () => {
    const journal = openedJournal();
    const { id: sourceId } = journal.sources.ensure({ key: 'k', topic: 'k', firstSeenMs: START_MS });
    const add = (fromMs: number, offset: number) =>
      journal.calibrations.add({ sourceId, fromMs, slope: 1, offset }, 'Inês', START_MS);
    add(START_MS + DAY_MS, 0.2);
    add(START_MS, 0.1);
    add(START_MS + DAY_MS, 0.3);
    expect(journal.calibrations.list().map(({ offset }) => offset)).toEqual([0.1, 0.3]);
  });
});
