import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, onTestFinished, test } from 'vitest';
import { openSqliteHistory } from '../../../gateway/history/sqlite.js';
import { openJournal } from '../../../gateway/journal/open.js';
import { type HistoryWorld, historyContract } from '../../contracts/history.js';
import { emptyFolder, HOUR_MS, landing, openedIn, reading, START_MS } from '../journal/opened.js';

/** What of the readings lies sealed when the history is asked. */
type Standing = 'rows' | 'half' | 'sealed';

const open = async (folder = emptyFolder(), standing: Standing = 'rows'): Promise<HistoryWorld> => {
  const journal = openedIn(folder);
  const clock = { nowMs: START_MS + 1_000 * HOUR_MS };
  const history = openSqliteHistory({ journal, now: () => clock.nowMs });
  onTestFinished(async () => {
    await history.close();
    journal.close();
  });
  return {
    journal,
    history,
    clock,
    keep: async (readings) => {
      const late = standing === 'half' ? readings.filter((_, n) => n % 3 === 1) : [];
      journal.land(landing({ readings: readings.filter((one) => !late.includes(one)) }));
      if (standing !== 'rows') expect(await journal.sealAll(clock.nowMs)).toBeGreaterThan(0);
      journal.land(landing({ readings: late }));
    },
    settle: async () => {
      while (journal.rollups.computeClosed(clock.nowMs, 100) > 0);
    },
  };
};

historyContract('SQLite, nothing sealed', () => open());
historyContract('SQLite, everything sealed', () => open(emptyFolder(), 'sealed'));
historyContract('SQLite, the rest come late', () => open(emptyFolder(), 'half'));

test('a reading that has landed is in the next answer', async () => {
  const { journal, history } = await open();
  const { id: sourceId } = journal.sources.ensure({ key: 'k', topic: 'k', firstSeenMs: START_MS });
  journal.mappings.name({ sourceId, channelId: 'l2.ph', unit: 'pH', fromMs: 0, ruling: true }, 'Inês', START_MS);
  for (let n = 1; n <= 20; n += 1) {
    journal.land(landing({ readings: [reading({ deviceMs: START_MS + n, raw: 8 })] }));
    expect((await history.readings('l2.ph', START_MS, START_MS + HOUR_MS, 99)).atMs).toHaveLength(n);
  }
});

test('a late reading in a computed hour is in the next answer', async () => {
  const { journal, history, keep, settle } = await open();
  const { id: sourceId } = journal.sources.ensure({ key: 'k', topic: 'k', firstSeenMs: START_MS });
  journal.mappings.name({ sourceId, channelId: 'l2.ph', unit: 'pH', fromMs: 0, ruling: true }, 'Inês', START_MS);
  await keep([0, 1, 2].map((n) => reading({ deviceMs: START_MS + n * HOUR_MS, raw: 8 })));
  await settle();
  await keep([reading({ deviceMs: START_MS + HOUR_MS + 1, raw: 9 })]);
  const { max } = await history.readings('l2.ph', START_MS, START_MS + 3 * HOUR_MS, 3);
  expect(max).toEqual([8, 9, 8]);
});

test('a damaged memory of computed hours is thrown away, not believed', async () => {
  const folder = emptyFolder();
  writeFileSync(join(folder, 'computed.sqlite'), 'this is not a database '.repeat(400));
  const { history } = await open(folder);
  expect((await history.readings('l2.ph', START_MS, START_MS + HOUR_MS, 9)).atMs).toEqual([]);
});

test('a channel id that is none is refused, and the next question is answered', async () => {
  const { history } = await open();
  await expect(history.readings('no such thing', START_MS, START_MS + HOUR_MS, 9)).rejects.toThrow('Not a channel id');
  expect((await history.readings('l2.ph', START_MS, START_MS + HOUR_MS, 9)).gaps).toHaveLength(1);
});

test('many questions at once are each answered with their own', async () => {
  const { history } = await open();
  const channels = Array.from({ length: 30 }, (_, n) => `t${n}.ph`);
  const answers = await Promise.all(channels.map((id) => history.readings(id, START_MS, START_MS + HOUR_MS, 9)));
  expect(answers.map(({ channelId }) => channelId)).toEqual(channels);
});

test('a long computed span lets other questions have their turn, and answers as its parts do', async () => {
  const { journal, history, keep, settle } = await open();
  const DAY_MS = 24 * HOUR_MS;
  for (const [key, unit] of [
    ['l2.conductivity', 'mS/cm'],
    ['l2.temperature', 'degC'],
  ] as const) {
    const { id: sourceId } = journal.sources.ensure({ key, topic: key, firstSeenMs: START_MS });
    journal.mappings.name({ sourceId, channelId: key, unit, fromMs: 0, ruling: true }, 'Inês', START_MS);
  }
  const moments = Array.from({ length: 24 * 6 * 30 }, (_, n) => START_MS + n * 600_000);
  await keep(
    moments.flatMap((deviceMs, n) => [47 + (n % 3), 20].map((raw, at) => reading({ sourceId: at + 1, deviceMs, raw }))),
  );
  await settle();
  const order: string[] = [];
  const long = history.readings('l2.salinity~computed', START_MS, START_MS + 30 * DAY_MS, 30).then((answer) => {
    order.push('thirty days');
    return answer;
  });
  await history.trails(['l2.temperature'], START_MS, START_MS + HOUR_MS, 60_000).then(() => order.push('trail'));
  const { atMs, mean } = await long;
  expect(order).toEqual(['trail', 'thirty days']);
  expect(atMs).toHaveLength(30);
  const oneDay = await history.readings('l2.salinity~computed', START_MS + 3 * DAY_MS, START_MS + 4 * DAY_MS, 1);
  expect(mean[3]).toBeCloseTo(oneDay.mean[0] ?? Number.NaN, 10);
});

test('of days whose readings were dropped the hours are shown, and the later ones whole', async () => {
  const folder = emptyFolder();
  const opened = openJournal(folder, { durability: 'second', retention: { rawDays: 10, hourDays: undefined } });
  if (!opened.ok) throw new Error(JSON.stringify(opened.fault));
  const journal = opened.value;
  const nowMs = START_MS + 11.5 * 24 * HOUR_MS;
  const history = openSqliteHistory({ journal, now: () => nowMs });
  onTestFinished(async () => {
    await history.close();
    journal.close();
  });
  const { id: sourceId } = journal.sources.ensure({ key: 'k', topic: 'k', firstSeenMs: START_MS });
  journal.mappings.name({ sourceId, channelId: 'l2.ph', unit: 'pH', fromMs: 0, ruling: true }, 'Inês', START_MS);
  const twoDays = Array.from({ length: 2_880 }, (_, n) => reading({ deviceMs: START_MS + n * 60_000, raw: n % 60 }));
  journal.importHistory([...twoDays, reading({ deviceMs: nowMs })]);
  await journal.sealAll(nowMs);
  journal.beat(nowMs);

  const [dayMs, ask] = [24 * HOUR_MS, (fromMs: number, toMs: number) => history.readings('l2.ph', fromMs, toMs, 5_000)];
  const dropped = await ask(START_MS, START_MS + 2 * HOUR_MS);
  expect(dropped).toMatchObject({ bucketMs: HOUR_MS, min: [0, 0], mean: [29.5, 29.5], max: [59, 59], gaps: [] });
  const kept = await ask(START_MS + dayMs, START_MS + dayMs + HOUR_MS);
  expect([kept.bucketMs, kept.atMs.length]).toEqual([0, 60]);
});
