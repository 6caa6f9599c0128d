import { cpSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { drawnFirst, stripPoints } from '../../dashboard/state/strip-readings.js';
import type { Review } from '../../rules/review/review.js';
import type { ChannelReadings } from '../../rules/wire/api.js';
import type { FrozenReview } from '../../rules/wire/review.js';
import { type Bench, type BenchOptions, type Figure, type Measured, medianMs, type Skipped } from './figure.js';
import { startGatewayProcess } from './gateway-process.js';
import { channelOf, type MadeHistory, madeHistory } from './made-history.js';
import { bytesOnDisk, missing, startInflux, startVictoria, type TimeSeriesPeer } from './time-series-peer.js';
import { makeDay, PROBES } from './water.js';

const DAY_MS = 86_400_000;
const YEAR_DAYS = 365;
const POINTS = 2_000;
/** What 2,000 buckets make of a year: the peers are asked for the same. */
const BUCKET_HOURS = 5;

const query = (channelId: string, fromMs: number, toMs: number): string =>
  `/channels/${channelId}/readings?from=${fromMs}&to=${toMs}&points=${POINTS}`;

const ownFigures = async (made: MadeHistory): Promise<readonly Figure[]> => {
  const size = bytesOnDisk(join(made.folder, 'journal.sqlite'));
  const gateway = await startGatewayProcess(made.folder, { NIGHTWATER_MQTT_LISTEN: '127.0.0.1:0' });
  try {
    const channels = Array.from({ length: 12 }, (_, n) => channelOf(Math.floor(n / PROBES.length), n % PROBES.length));
    const first = channels[0] ?? '';
    const yearFrom = made.endMs - YEAR_DAYS * DAY_MS;
    const yearMs = await medianMs(9, () => gateway.ask(query(first, yearFrom, made.endMs)));
    const year = (await gateway.ask(query(first, yearFrom, made.endMs))) as ChannelReadings;
    if (year.bucketMs !== BUCKET_HOURS * 3_600_000) throw new Error(`A year came in buckets of ${year.bucketMs} ms.`);
    let back = 0;
    const fortnightMs = await medianMs(5, () => {
      // Another fortnight each time, so that nothing of it is opened yet.
      back += 14;
      const toMs = made.endMs - back * DAY_MS;
      return Promise.all(channels.map((id) => gateway.ask(query(id, toMs - 14 * DAY_MS, toMs))));
    });
    const review = await reviewFigures(gateway, made.endMs);
    return [
      { what: 'readings kept', value: made.readings, unit: 'readings' },
      { what: 'size on disk', value: size / 2 ** 20, unit: 'MiB' },
      {
        what: 'bytes a reading: raw, flags, both times, hours',
        value: size / made.readings,
        unit: 'B',
        budget: { most: 3 },
      },
      ...(made.madeInS === undefined
        ? []
        : [{ what: 'made and sealed', value: made.readings / made.madeInS, unit: 'readings/s' }]),
      { what: `a year of one channel in ${POINTS} buckets`, value: yearMs, unit: 'ms', budget: { most: 50 } },
      { what: '14 days of 12 channels', value: fortnightMs, unit: 'ms', budget: { most: 1_000 } },
      ...review,
    ];
  } finally {
    await gateway.stop();
  }
};

const REVIEWS = 3;

/**
 * Freezing a review of one tank with the eight that stand closest, every reading of 14 days of each of their channels, and
 * opening it: the frozen record and 14 days of every channel that it draws.
 */
const reviewFigures = async (
  { ask }: Awaited<ReturnType<typeof startGatewayProcess>>,
  endMs: number,
): Promise<readonly Figure[]> => {
  const frozen: Review[] = [];
  const freezeMs = await medianMs(REVIEWS, async () => {
    const deadMs = endMs - frozen.length * 3_600_000;
    const wanted = { start: 'by-hand', tanks: ['t0'], deadMs, aliveMs: deadMs - 12 * 3_600_000 };
    frozen.push(((await ask('/reviews', wanted)) as FrozenReview).review);
  });
  const [review] = frozen;
  if (review === undefined) throw new Error('No review was frozen.');
  const deadMs = review.onset.certainDeadMs;
  // As the page does: what was frozen and what came since, then what is drawn first, then what lies beside it.
  const { own, beside } = drawnFirst(review.channels);
  const drawing = (ids: readonly string[], days: number) =>
    Promise.all(
      ids.map((id) => {
        const span = { fromMs: deadMs - days * DAY_MS, toMs: deadMs };
        const query = `from=${span.fromMs}&to=${span.toMs}&points=${stripPoints(span)}`;
        return ask(`/channels/${encodeURIComponent(id)}/readings?${query}`);
      }),
    );
  const opened = async (...drawn: readonly (readonly [ids: readonly string[], days: number])[]) => {
    await Promise.all([ask(`/reviews/${review.id}/record`), ask(`/reviews/${review.id}/since`)]);
    await Promise.all(drawn.map(([ids, days]) => drawing(ids, days)));
  };
  const firstMs = await medianMs(REVIEWS, () => opened());
  const dayMs = await medianMs(REVIEWS, () => opened([own, 1]));
  const openMs = await medianMs(REVIEWS, () => opened([own, 14], [beside, 14]));
  const readings = review.channels.reduce((sum, channel) => sum + channel.readings, 0);
  return [
    { what: 'readings in a review', value: readings, unit: 'readings' },
    { what: `a review of ${review.channels.length} channels frozen`, value: freezeMs, unit: 'ms' },
    { what: 'a review opened: what was frozen', value: firstMs, unit: 'ms' },
    { what: `a review opened, and 24 h of its ${own.length} own channels`, value: dayMs, unit: 'ms' },
    {
      what: `a review opened, and 14 days of all ${own.length + beside.length} channels`,
      value: openMs,
      unit: 'ms',
      budget: { most: 1_000 },
    },
  ];
};

type PeerFigures = { readonly name: string; readonly bytes: number; readonly yearMs: number };

/** The first tank's four probes for a year; the year of the first of them is asked for. */
const peerFigures = async (peer: TimeSeriesPeer, endMs: number, say: BenchOptions['say']): Promise<PeerFigures> => {
  try {
    say(`${peer.name}: writing a year of four channels ...`);
    let readings = 0;
    for (let day = endMs / DAY_MS - YEAR_DAYS; day < endMs / DAY_MS; day += 1) {
      for (let probe = 0; probe < PROBES.length; probe += 1) {
        const columns = makeDay(0, probe, day);
        readings += columns.deviceMs.length;
        await peer.write(String(probe + 1), columns);
      }
    }
    const bytes = (await peer.settledBytes()) / readings;
    const ask = () => peer.buckets('1', endMs - YEAR_DAYS * DAY_MS, endMs, BUCKET_HOURS);
    if ((await ask()) < 1_700) throw new Error(`${peer.name} answered too few buckets.`);
    return { name: peer.name, bytes, yearMs: await medianMs(5, ask) };
  } finally {
    await peer.close();
  }
};

const PEERS = [
  ['influxd', startInflux],
  ['victoria-metrics', startVictoria],
] as const;

const run = async (options: BenchOptions): Promise<Measured> => {
  const made = await madeHistory(options);
  // The gateway writes into its journal: the made one stays as it is.
  const folder = mkdtempSync(join(tmpdir(), 'nightwater-bench-'));
  try {
    cpSync(made.folder, folder, { recursive: true });
    const own = await ownFigures({ ...made, folder });
    const skipped: Skipped[] = [];
    const figures: Figure[] = [...own];
    for (const [program, start] of PEERS) {
      const because = missing(program);
      if (because !== undefined) {
        skipped.push({ what: program, because });
        continue;
      }
      const peer = await peerFigures(await start(), made.endMs, options.say);
      figures.push(...beside(own, peer));
    }
    return { figures, skipped };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
};

/** Our figures once more, with the peer's beside them and as their budget. */
const beside = (own: readonly Figure[], { name, bytes, yearMs }: PeerFigures): readonly Figure[] =>
  own.flatMap((figure) => {
    const anchor = figure.unit === 'B' ? bytes : figure.what.startsWith('a year') ? yearMs : undefined;
    const what = figure.unit === 'B' ? `${name}, raw, flags, both times` : name;
    return anchor === undefined ? [] : [{ ...figure, anchor: { what, value: anchor }, budget: { most: anchor } }];
  });

export const historyBench: Bench = {
  name: 'history',
  about: 'size on disk, a year, a fortnight and a review at the API, beside InfluxDB and VictoriaMetrics',
  run,
};
