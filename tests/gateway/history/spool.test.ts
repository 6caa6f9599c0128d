import { expect, onTestFinished, test } from 'vitest';
import { openSpool } from '../../../gateway/history/spool.js';
import type { Pace } from '../../../gateway/history/spool-round.js';
import type { Journal } from '../../../gateway/journal/journal.js';
import { type InfluxEndpoint, openInfluxEndpoint } from '../../support/influx-endpoint.js';
import { DRY, emptyFolder, GOOD, HOUR_MS, landing, openedIn, reading, SPIKE, START_MS } from '../journal/opened.js';

const QUICK: Pace = { atMost: 100, limitMs: 250, restMs: 2, firstWaitMs: 4, longestWaitMs: 16 };
const ADDRESS = { org: 'hatchery', bucket: 'water', token: 'a-token', site: 'site-1' };

const openedEndpoint = async (): Promise<InfluxEndpoint> => {
  const endpoint = await openInfluxEndpoint();
  onTestFinished(endpoint.close);
  return endpoint;
};

/** A journal that is followed to an endpoint; what it says, and waiting for a word or for everything to be confirmed. */
const follow = (journal: Journal, { url }: { readonly url: string }, pace: Pace = QUICK) => {
  const said: string[] = [];
  const waiting = new Set<() => void>();
  const spool = openSpool({
    journal,
    address: { ...ADDRESS, url },
    now: () => START_MS + 1_000 * HOUR_MS,
    when: (atMs) => new Date(atMs).toISOString(),
    say: (line) => {
      said.push(line);
      for (const look of waiting) look();
    },
    pace,
  });
  const says = (wanted: RegExp): Promise<string> =>
    new Promise((resolve) => {
      const look = (): void => {
        const found = said.find((line) => wanted.test(line));
        if (found === undefined) return;
        waiting.delete(look);
        resolve(found);
      };
      waiting.add(look);
      look();
    });
  onTestFinished(spool.close);
  return { spool, said, says };
};

const sourced = (journal: Journal, key = 'tanks/l2/temperature'): number =>
  journal.sources.ensure({ key, topic: key, firstSeenMs: START_MS }).id;

/** Until the journal says that nothing is due; the worker asks again each few milliseconds. */
const settled = async (journal: Journal): Promise<void> => {
  await expect
    .poll(() => journal.due.standing(), { interval: 5, timeout: 50_000 })
    .toMatchObject({ readings: 0, days: 0 });
};

const opened = (folder = emptyFolder()): Journal => {
  const journal = openedIn(folder);
  onTestFinished(() => journal.close());
  return journal;
};

const land = (journal: Journal, from: number, to: number): void => {
  for (let n = from; n < to; n += 1)
    journal.land(landing({ readings: [reading({ deviceMs: START_MS + n * 1_000, raw: n / 10 })] }));
};

test('each landed reading is one point: who and where as named when it landed, raw value, verdict and arrival', async () => {
  const [journal, endpoint] = [opened(), await openedEndpoint()];
  const sourceId = sourced(journal, 'tanks/l 2,"é/temperature');
  follow(journal, endpoint);
  journal.land(landing({ readings: [reading({ deviceMs: START_MS, raw: 0.1 + 0.2 })] }));
  journal.mappings.name(
    { sourceId, channelId: 'l2.temperature', unit: 'degC', fromMs: 0, ruling: true },
    'Inês',
    START_MS + 500,
  );
  journal.land(landing({ readings: [reading({ deviceMs: START_MS + 1_000, raw: 18, refusedMs: 4 })] }));
  journal.land(landing({ readings: [reading({ deviceMs: START_MS + 1_000, raw: 19 })] }));
  await settled(journal);
  const who = 'reading,site=site-1,source=tanks/l%202%2C%22%C3%A9/temperature';
  const second = `arrival=${START_MS + 1_020}i,flags=${GOOD}i,raw=18,refused=4i`;
  const named = 'channel=l2.temperature,site=site-1,source=tanks/l%202%2C%22%C3%A9/temperature,tank=l2';
  const points = [...endpoint.points].map(([key, fields]) => [key, fields]);
  expect(points).toHaveLength(3);
  expect(points).toContainEqual([
    `${who},variant=0 ${START_MS}`,
    `arrival=${START_MS + 20}i,flags=${GOOD}i,raw=0.30000000000000004`,
  ]);
  expect(points).toContainEqual([`reading,${named},variant=0 ${START_MS + 1_000}`, second]);
  expect(points.some(([key]) => key === `reading,${named},variant=1 ${START_MS + 1_000}`)).toBe(true);
  const [write] = endpoint.writes;
  expect(write?.path).toBe('/api/v2/write?org=hatchery&bucket=water&precision=ms');
  expect(write?.headers.authorization).toBe('Token a-token');
});

test('a verdict that is revised is written again, over the same point, also after a later naming', async () => {
  const [journal, endpoint] = [opened(), await openedEndpoint()];
  const sourceId = sourced(journal);
  follow(journal, endpoint);
  land(journal, 0, 2);
  await settled(journal);
  journal.mappings.name(
    { sourceId, channelId: 'l2.temperature', unit: 'degC', fromMs: 0, ruling: true },
    'Inês',
    START_MS + HOUR_MS,
  );
  journal.land(landing({ revisions: [{ sourceId, deviceMs: START_MS, flags: SPIKE }] }));
  await settled(journal);
  expect([...endpoint.points.values()].map((fields) => /flags=(\d+)i/.exec(fields)?.[1])).toEqual([
    String(SPIKE),
    String(GOOD),
  ]);
});

test('what was here before the database was set is written too, sealed or not, and so is what is imported', async () => {
  const [journal, endpoint] = [opened(), await openedEndpoint()];
  sourced(journal);
  const days = Array.from({ length: 600 }, (_, n) => reading({ deviceMs: START_MS + n * HOUR_MS, flags: DRY }));
  journal.importHistory(days.slice(0, 400));
  await journal.sealAll(START_MS + 300 * HOUR_MS);
  const { said } = follow(journal, endpoint);
  journal.importHistory(days.slice(400));
  await settled(journal);
  expect(endpoint.points.size).toBe(600);
  expect(said).toEqual([
    `History goes to InfluxDB at ${endpoint.url}, bucket water; 17 whole days of a source wait on this disk.`,
  ]);
});

test('while nothing answers everything lands and waits, and all of it is there when the database comes back', async () => {
  const [journal, endpoint] = [opened(), await openedEndpoint()];
  sourced(journal);
  const { says, spool } = follow(journal, endpoint);
  land(journal, 0, 50);
  await settled(journal);
  await endpoint.stop();
  land(journal, 50, 400);
  const away = await says(/has taken no readings since/);
  expect(away).toContain('nothing answers there');
  expect(away).toMatch(/\(ECONN\w+\)/);
  expect(spool.standing()).toMatchObject({ readings: 350, trouble: { code: 'unreachable' } });
  expect(spool.standing().sinceMs).toBe(START_MS + 1_000 * HOUR_MS);
  await endpoint.start();
  await says(/takes readings again/);
  await settled(journal);
  expect(endpoint.points.size).toBe(400);
  expect(spool.standing().sinceMs).toBeUndefined();
});

for (const [status, words] of [
  [401, /refuses the token: check NIGHTWATER_INFLUX_TOKEN/],
  [403, /refuses the token/],
  [
    404,
    /does not know the bucket or organisation: check org and bucket in NIGHTWATER_HISTORY.*bucket "water" not found/,
  ],
  [500, /it has trouble of its own \(500/],
  [503, /it asks us to wait/],
] as const) {
  test(`${status} is said in a sentence, sets nothing aside, and is tried again`, async () => {
    const [journal, endpoint] = [opened(), await openedEndpoint()];
    sourced(journal);
    endpoint.answers({ status, body: JSON.stringify({ code: 'x', message: 'bucket "water" not found' }) });
    const { says } = follow(journal, endpoint);
    land(journal, 0, 20);
    await says(words);
    expect(journal.due.standing()).toMatchObject({ readings: 20, refused: 0 });
    endpoint.answers('take');
    await settled(journal);
    expect(endpoint.points.size).toBe(20);
  });
}

test('one that says when to come back is not asked before', async () => {
  const [journal, endpoint] = [opened(), await openedEndpoint()];
  sourced(journal);
  endpoint.answers({ status: 429, headers: { 'retry-after': '1' } });
  const { says } = follow(journal, endpoint);
  land(journal, 0, 20);
  await says(/it asks us to wait \(429\)/);
  endpoint.answers('take');
  const askedBefore = endpoint.writes.length;
  await settled(journal);
  expect([askedBefore, endpoint.points.size]).toEqual([1, 20]);
});

test('a database that hangs is given up after a while and asked again; it may have taken what it never confirmed', async () => {
  const [journal, endpoint] = [opened(), await openedEndpoint()];
  sourced(journal);
  endpoint.answers('take-and-hang');
  const { says } = follow(journal, endpoint);
  land(journal, 0, 30);
  await says(/does not answer in time/);
  expect(journal.due.standing().readings).toBe(30);
  endpoint.answers('slow');
  land(journal, 30, 40);
  await settled(journal);
  expect(endpoint.points.size).toBe(40);
});

test('a reading that is refused for ever is set aside, counted and said; all others go on, and it is offered again at the next start', async () => {
  const [journal, endpoint] = [opened(), await openedEndpoint()];
  sourced(journal);
  endpoint.answers({ refuses: (line) => line.includes('raw=1.3 ') || line.includes('raw=27.7 ') });
  const first = follow(journal, endpoint);
  land(journal, 0, 300);
  await settled(journal);
  expect(endpoint.points.size).toBe(298);
  expect(journal.due.standing().refused).toBe(2);
  expect(await first.says(/refuses 1 reading for ever|refuses 2 readings for ever/)).toContain('(400: not this one)');
  await first.spool.close();
  endpoint.answers('take');
  const second = follow(journal, endpoint);
  expect(second.said[0]).toContain('1 whole day of a source waits on this disk');
  await settled(journal);
  expect([endpoint.points.size, journal.due.standing().refused]).toEqual([300, 0]);
});

test('a database that refuses everything is not asked about each reading, and nothing is lost', async () => {
  const [journal, endpoint] = [opened(), await openedEndpoint()];
  sourced(journal);
  endpoint.answers({ refuses: () => true });
  follow(journal, endpoint);
  journal.importHistory(Array.from({ length: 2_000 }, (_, n) => reading({ deviceMs: START_MS + n })));
  await settled(journal);
  expect(journal.due.standing().refused).toBe(2_000);
  expect(endpoint.writes.length).toBeLessThan(200);
  expect(journal.readings.between(1, START_MS, START_MS + 2_000)).toHaveLength(2_000);
});

test('the position is kept: a journal that is opened again goes on where the database last confirmed', async () => {
  const [folder, endpoint] = [emptyFolder(), await openedEndpoint()];
  const before = openedIn(folder);
  sourced(before);
  const first = follow(before, endpoint);
  land(before, 0, 100);
  await settled(before);
  await first.spool.close();
  land(before, 100, 150);
  before.close();
  const seen = endpoint.writes.length;
  const after = opened(folder);
  const { said } = follow(after, endpoint);
  await settled(after);
  expect(said[0]).toContain('50 readings wait on this disk');
  expect(endpoint.points.size).toBe(150);
  expect(endpoint.writes.slice(seen).flatMap(({ lines }) => lines)).toHaveLength(50);
});

test('another database is due everything that is here; without one nothing is', async () => {
  const [journal, one, other] = [opened(), await openedEndpoint(), await openedEndpoint()];
  sourced(journal);
  const first = follow(journal, one);
  land(journal, 0, 100);
  await settled(journal);
  await first.spool.close();
  const second = follow(journal, other);
  await settled(journal);
  expect(other.points).toEqual(one.points);
  await second.spool.close();
  journal.due.follow(undefined);
  land(journal, 100, 110);
  expect(journal.due.standing()).toMatchObject({ readings: 0, days: 0 });
});

test('a backlog that became long is kept by its days, and nothing of it is lost', async () => {
  const [journal, endpoint] = [opened(), await openedEndpoint()];
  sourced(journal);
  await endpoint.stop();
  const { says } = follow(journal, endpoint, { ...QUICK, atMost: 20_000, limitMs: 20_000 });
  journal.together(() => land(journal, 0, 20_100));
  await says(/nothing answers there/);
  journal.beat(START_MS);
  expect(journal.due.standing()).toMatchObject({ readings: 19_100, days: 1 });
  await endpoint.start();
  await settled(journal);
  expect(endpoint.points.size).toBe(20_100);
});
