import { afterAll, beforeAll, expect, onTestFinished, test } from 'vitest';
import { lookAtInflux } from '../../../gateway/history/influx-query.js';
import { openSpool, type Spool } from '../../../gateway/history/spool.js';
import type { Pace } from '../../../gateway/history/spool-round.js';
import { openSqliteHistory } from '../../../gateway/history/sqlite.js';
import type { Journal } from '../../../gateway/journal/journal.js';
import type { KeptReading } from '../../../gateway/journal/landing.js';
import { type HistoryWorld, historyContract } from '../../contracts/history.js';
import { type Influxd, influxdMissing, openInfluxDoor, startInfluxd } from '../../support/influxd.js';
import { peer } from '../../support/peer.js';
import { emptyFolder, HOUR_MS, landing, openedIn, reading, START_MS } from '../journal/opened.js';

const QUICK: Pace = { atMost: 5_000, limitMs: 10_000, restMs: 5, firstWaitMs: 20, longestWaitMs: 100 };
const DAY_MS = 24 * HOUR_MS;

/** Debian's InfluxDB 1.6.7 with a door in front that maps /api/v2/write; one for all, and a site for each world. */
peer('influxd', influxdMissing)('older readings in a real InfluxDB', () => {
  let influxd: Influxd;
  let door: Awaited<ReturnType<typeof openInfluxDoor>>;
  let sites = 0;
  beforeAll(async () => {
    influxd = await startInfluxd();
    await influxd.does('CREATE DATABASE water');
    await influxd.does('CREATE RETENTION POLICY "ever" ON "water" DURATION INF REPLICATION 1 DEFAULT');
    door = await openInfluxDoor(influxd.url);
  });
  afterAll(async () => {
    await door.close();
    await influxd.close();
  });

  type World = HistoryWorld & { readonly spool: Spool; readonly drop: () => number };

  const open = async (bucket = 'water/ever'): Promise<World> => {
    const journal = openedIn(emptyFolder());
    const clock = { nowMs: START_MS + 1_000 * HOUR_MS };
    sites += 1;
    const address = { url: door.url, org: '', bucket, token: '', site: `site-${sites}` };
    const history = openSqliteHistory({ journal, now: () => clock.nowMs, address });
    const spool = openSpool({
      ...{ journal, address, pace: QUICK },
      now: () => clock.nowMs,
      when: String,
      say: () => undefined,
    });
    onTestFinished(async () => {
      await spool.close();
      await history.close();
      journal.close();
    });
    let beats = 0;
    /** Beats of as many hours as it takes: a few days go with each, and then it rests. */
    const drop = (): number => {
      for (let n = 0; n < 12; n += 1) {
        beats += 1;
        journal.beat(START_MS + (1_000 + beats) * HOUR_MS);
      }
      return START_MS + (1_000 + beats) * HOUR_MS;
    };
    return {
      ...{ journal, history, clock, spool, drop },
      keep: async (readings: readonly KeptReading[]) => {
        journal.land(landing({ readings }));
        await confirmed(journal);
        while (journal.rollups.computeClosed(clock.nowMs, 1_000) > 0);
        await journal.sealAll(clock.nowMs);
        drop();
        const left = journal.sources.list().flatMap(({ id }) => journal.readings.between(id, 0, clock.nowMs));
        expect(left).toEqual([]);
      },
      settle: async () => undefined,
    };
  };
  const confirmed = async (journal: Journal): Promise<void> => {
    await expect
      .poll(() => journal.due.standing(), { interval: 20, timeout: 50_000 })
      .toMatchObject({ readings: 0, days: 0, refused: 0 });
  };
  const named = ({ journal }: HistoryWorld): number => {
    const { id: sourceId } = journal.sources.ensure({ key: 'k', topic: 'k', firstSeenMs: START_MS });
    journal.mappings.name({ sourceId, channelId: 'l2.ph', unit: 'pH', fromMs: 0, ruling: true }, 'Inês', START_MS);
    return sourceId;
  };

  historyContract('InfluxDB 1.6.7, everything gone from here', () => open());

  test('readings older than the retention of the database are set aside and stay here; newer ones beside them go there', async () => {
    await influxd.does('CREATE DATABASE brief WITH DURATION 1d NAME "day"');
    const world = await open('brief/day');
    const sourceId = named(world);
    const { journal, history, clock } = world;
    const newMs = Date.now() - HOUR_MS;
    journal.land(landing({ readings: [7, 8].map((raw, n) => reading({ deviceMs: START_MS + n, raw })) }));
    journal.land(landing({ readings: [reading({ deviceMs: newMs, raw: 9 })] }));
    await expect
      .poll(() => journal.due.standing(), { interval: 20, timeout: 50_000 })
      .toMatchObject({ readings: 0, days: 0, refused: 2 });
    while (journal.rollups.computeClosed(clock.nowMs, 1_000) > 0);
    await journal.sealAll(clock.nowMs);
    world.drop();
    expect(journal.readings.between(sourceId, START_MS, START_MS + 2).map(({ raw }) => raw)).toEqual([7, 8]);
    expect((await history.readings('l2.ph', START_MS, START_MS + HOUR_MS, 9)).mean).toEqual([7, 8]);
    const answer = await fetch(
      `${influxd.url}/query?db=brief&q=${encodeURIComponent('SELECT raw FROM "day".reading')}`,
    );
    expect(await answer.text()).toContain(',9]');
  });

  test('a look before a start tells a database that would do from one that does not know the bucket, or is not there', async () => {
    const place = { url: door.url, org: '', bucket: 'water/ever', token: '' };
    expect(await lookAtInflux(place, 5_000)).toBeUndefined();
    expect(await lookAtInflux({ ...place, bucket: 'milk' }, 5_000)).toMatchObject({ code: 'bucket-unknown' });
    await influxd.kill();
    expect(await lookAtInflux({ ...place, url: influxd.url }, 5_000)).toEqual({
      code: 'unreachable',
      detail: 'ECONNREFUSED',
    });
    await influxd.start();
    const asked = `SELECT count(raw) FROM reading WHERE site = ''`;
    const answer = await fetch(`${influxd.url}/query?db=water&q=${encodeURIComponent(asked)}`);
    expect(await answer.json()).toEqual({ results: [{ statement_id: 0 }] });
  });

  test('a computed hour is not remembered as empty while its readings cannot be had', async () => {
    const world = await open();
    const { journal, history } = world;
    for (const [key, unit] of [
      ['l2.conductivity', 'mS/cm'],
      ['l2.temperature', 'degC'],
    ] as const) {
      const { id: sourceId } = journal.sources.ensure({ key, topic: key, firstSeenMs: START_MS });
      journal.mappings.name({ sourceId, channelId: key, unit, fromMs: 0, ruling: true }, 'Inês', START_MS);
    }
    const minutes = Array.from({ length: 300 }, (_, n) => START_MS + n * 60_000);
    await world.keep(
      minutes.flatMap((deviceMs) => [47, 20].map((raw, n) => reading({ sourceId: n + 1, deviceMs, raw }))),
    );
    const ask = async (): Promise<number> =>
      (await history.readings('l2.salinity~computed', START_MS, START_MS + 5 * HOUR_MS, 5)).atMs.length;
    await influxd.kill();
    expect(await ask()).toBe(0);
    await influxd.start();
    // What it did not answer once it is not asked again for some seconds.
    await expect.poll(ask, { interval: 500, timeout: 30_000 }).toBe(5);
  });

  test('a span that begins there and ends here is one answer, reading by reading and in buckets', async () => {
    const world = await open();
    named(world);
    const { journal, history } = world;
    const nowMs = START_MS + 1_000 * HOUR_MS;
    const all = Array.from({ length: 41 * 24 }, (_, n) => reading({ deviceMs: START_MS + n * HOUR_MS, raw: n % 10 }));
    journal.land(landing({ readings: all }));
    await confirmed(journal);
    while (journal.rollups.computeClosed(nowMs, 1_000) > 0);
    await journal.sealAll(nowMs);
    const lastBeatMs = world.drop();
    const left = journal.readings.between(1, 0, nowMs);
    expect(left[0]?.deviceMs).toBe((Math.floor(lastBeatMs / DAY_MS) - 8) * DAY_MS);
    const whole = await history.readings('l2.ph', START_MS, nowMs, 2_000);
    expect([whole.bucketMs, whole.atMs.length]).toEqual([0, all.length]);
    expect(whole.mean).toEqual(all.map(({ raw }) => raw));
    const rows: number[] = [];
    for await (const page of history.rows('l2.ph', START_MS, nowMs)) rows.push(...page.map(({ atMs }) => atMs));
    expect(rows).toEqual(all.map(({ deviceMs }) => deviceMs));
  });

  test('what comes late for a day that is gone is in the next answer once, before and after it has gone there too', async () => {
    const world = await open();
    named(world);
    const { journal, history, clock } = world;
    await world.keep([0, 2].map((n) => reading({ deviceMs: START_MS + n * 60_000, raw: n })));
    const raws = async (): Promise<readonly (number | null)[]> =>
      (await history.readings('l2.ph', START_MS, START_MS + HOUR_MS, 9)).mean;
    expect(await raws()).toEqual([0, 2]);
    journal.land(landing({ readings: [reading({ deviceMs: START_MS + 60_000, raw: 1 })] }));
    expect(await raws()).toEqual([0, 1, 2]);
    await journal.sealAll(clock.nowMs);
    expect(await raws()).toEqual([0, 1, 2]);
    await world.keep([reading({ deviceMs: START_MS + 180_000, raw: 3 })]);
    expect(await raws()).toEqual([0, 1, 2, 3]);
  });

  test('killed and started again in between, it has every reading once and knows the verdict that came last', async () => {
    const world = await open();
    const sourceId = named(world);
    const { journal } = world;
    const land = (from: number, to: number): void => {
      for (let n = from; n < to; n += 1)
        journal.land(landing({ readings: [reading({ deviceMs: START_MS + n * 1_000, raw: n })] }));
    };
    land(0, 500);
    await influxd.kill();
    land(500, 1_000);
    journal.land(landing({ revisions: [{ sourceId, deviceMs: START_MS + 7_000, flags: 3 }] }));
    await influxd.start();
    await confirmed(journal);
    const asked = `SELECT count(raw), sum(raw) FROM reading WHERE site = 'site-${sites}'`;
    const answer = await fetch(`${influxd.url}/query?db=water&q=${encodeURIComponent(asked)}`);
    expect(await answer.text()).toContain(`,1000,${(999 * 1_000) / 2}]`);
    const flags = `SELECT flags FROM reading WHERE site = 'site-${sites}' AND time = ${START_MS + 7_000}ms`;
    const verdict = await fetch(`${influxd.url}/query?db=water&epoch=ms&q=${encodeURIComponent(flags)}`);
    expect(await verdict.text()).toContain(`[${START_MS + 7_000},3]`);
  });

  test('a day with an unconfirmed reading stays here; while nothing answers the others are shown by hours, and are not exported', async () => {
    const world = await open();
    named(world);
    const { journal, history, clock } = world;
    const unconfirmed = reading({ deviceMs: START_MS - DAY_MS, raw: 5 });
    await world.keep([reading({ deviceMs: START_MS, raw: 7 })]);
    await influxd.kill();
    journal.land(landing({ readings: [unconfirmed] }));
    while (journal.rollups.computeClosed(clock.nowMs, 1_000) > 0);
    await journal.sealAll(clock.nowMs);
    world.drop();
    expect(journal.readings.between(1, 0, clock.nowMs)).toHaveLength(1);
    expect(await history.readings('l2.ph', START_MS, START_MS + HOUR_MS, 100)).toMatchObject({
      bucketMs: HOUR_MS,
      mean: [7],
    });
    const pages = history.rows('l2.ph', START_MS, START_MS + HOUR_MS);
    await expect(pages[Symbol.asyncIterator]().next()).rejects.toThrow(
      'Older readings cannot be read: nothing answers',
    );
    await influxd.start();
    await confirmed(journal);
    world.drop();
    expect(journal.readings.between(1, 0, clock.nowMs)).toHaveLength(0);
  });
});
