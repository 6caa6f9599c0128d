import { signal } from '@preact/signals';
import { UNIT } from '../../rules/quantity.js';
import { fault, ok } from '../../rules/result.js';
import type { ChannelReadings, SessionPicture, SourcePicture } from '../../rules/wire/api.js';
import type { Api } from '../link/api.js';
import type { Outbox } from '../state/outbox.js';
import { hear, openRoom, PULSE_LENGTH, type Room } from '../state/room.js';
import { SAMPLE_NOW_MS, type SampleRoom } from './sample-name.js';
import { sampleRoom, sampleWave } from './sample-room.js';

/** A room that lives without a gateway: its clock stands, so that a picture of it is the same tomorrow. */
export const openSampleRoom = (name: SampleRoom): Room => {
  const { picture, trails } = sampleRoom(name);
  const room = openRoom(SAMPLE_NOW_MS, picture);
  room.trails.value = trails;
  room.heardMs.value = SAMPLE_NOW_MS;
  room.feed.value = name === 'lost' ? { kind: 'lost', sinceMs: SAMPLE_NOW_MS - 190_000 } : { kind: 'live' };
  room.pulse.value = Array.from({ length: PULSE_LENGTH }, (_, beat) => 3 + ((beat * 7919) % 11) * ((beat % 3) + 1));
  return room;
};

/** Beats of a lively room: each channel speaks once a second, a quarter of them in each beat. */
const BEATS_PER_SECOND = 4;

/** Lets a sample room live as under a gateway: every channel at 1 Hz. Returns what stops it. */
export const keepAlive = (room: Room): (() => void) => {
  let beat = 0;
  const timer = setInterval(() => {
    beat += 1;
    const atMs = SAMPLE_NOW_MS + (beat * 1000) / BEATS_PER_SECOND;
    const channels = (room.picture.value?.channels ?? []).filter(
      (_, index) => index % BEATS_PER_SECOND === beat % BEATS_PER_SECOND,
    );
    const moved = channels.map((channel, index) => ({
      ...channel,
      atMs,
      value: (channel.value ?? 0) + 0.06 * Math.sin(beat * 0.7 + index),
    }));
    hear(room, { kind: 'channels', body: { atMs, readings: moved.length, channels: moved, alarms: [] } });
    if (beat % BEATS_PER_SECOND === 0)
      hear(room, {
        kind: 'life',
        body: { nowMs: atMs, lastReadingMs: atMs, readingsPerSecond: moved.length * BEATS_PER_SECOND },
      });
  }, 1000 / BEATS_PER_SECOND);
  return () => clearInterval(timer);
};

const HOUR_MS = 3_600_000;

/** A day of a channel that ends at its present value, with a drain-down in it. */
const sampleReadings = (
  room: Room,
  channelId: string,
  fromMs: number,
  toMs: number,
  points: number,
): ChannelReadings => {
  const channel = room.picture.value?.channels.find(({ id }) => id === channelId);
  const quantity = channel?.quantity ?? 'temperature';
  const { targetLow = 80, targetHigh = 105 } = channel?.wants ?? {};
  const middle = (targetLow + targetHigh) / 2;
  const end = channel?.value ?? middle;
  const seed = channelId.length + channelId.charCodeAt(1);
  const calm = channel?.state === 'in-target';
  const bucketMs = (toMs - fromMs) / points;
  const atMs = Array.from({ length: points }, (_, index) => fromMs + (index + 0.5) * bucketMs).filter(
    (at) => at <= SAMPLE_NOW_MS,
  );
  const gapFrom = toMs - 11.5 * HOUR_MS;
  const gap = { fromMs: gapFrom, toMs: gapFrom + 35 * 60_000, reason: 'out-of-water' as const };
  const mean = atMs.map((at) => {
    if (at >= gap.fromMs && at < gap.toMs) return null;
    const hoursBefore = (SAMPLE_NOW_MS - at) / HOUR_MS;
    const along = calm ? 1 : Math.max(0, 1 - hoursBefore / 1.4);
    const wander = sampleWave(seed, hoursBefore * 6) - sampleWave(seed, 0) * along;
    return middle + (end - middle) * along + wander * (targetHigh - targetLow) * (calm ? 0.22 : 0.12);
  });
  const spread = (targetHigh - targetLow) * 0.03;
  return {
    channelId,
    quantity,
    unit: UNIT[quantity],
    fromMs,
    toMs,
    bucketMs,
    atMs,
    mean,
    min: mean.map((value) => (value === null ? null : value - spread)),
    max: mean.map((value) => (value === null ? null : value + spread)),
    usable: mean.map((value) => (value === null ? 0 : 1)),
    gaps: [gap],
  };
};

const sampleSources: readonly SourcePicture[] = [
  {
    id: 1,
    key: 'tanks/l6/temperature',
    topic: 'tanks/l6/temperature',
    firstSeenMs: SAMPLE_NOW_MS - 90_000,
    lastSeenMs: SAMPLE_NOW_MS - 2000,
    lastValue: 26.31,
    readings: 9,
    suggestion: { tank: 'L6', quantity: 'temperature', unit: 'degC' },
  },
  {
    id: 2,
    key: 'boards/shed-2/water#/do',
    topic: 'boards/shed-2/water',
    board: 'shed-2',
    firstSeenMs: SAMPLE_NOW_MS - 9 * HOUR_MS,
    lastSeenMs: SAMPLE_NOW_MS - 8000,
    lastValue: 7.92,
    readings: 3201,
    mapping: {
      sourceId: 2,
      channelId: 'l3.oxygen-saturation',
      unit: '%',
      fromMs: SAMPLE_NOW_MS - 8 * HOUR_MS,
      ruling: true,
    },
  },
];

const NOT_HERE = fault({
  type: 'about:blank',
  title: 'Sample',
  status: 0,
  detail: 'This is the page of parts: nothing is changed here.',
  fault: 'SAMPLE',
});

/** What is written on a sample page is refused with its reason, and nothing waits. */
export const sampleOutbox = (): Outbox => ({
  waiting: signal([]),
  write: async () => ({ kind: 'refused', problem: NOT_HERE.fault }),
  flush: async () => undefined,
  drop: async () => undefined,
});

const SAMPLE_SESSION: SessionPicture = { first: false, demo: true };

/** A gateway that answers from the sample and changes nothing. */
export const sampleApi = (room: Room): Api => ({
  session: async () => ok(SAMPLE_SESSION),
  signIn: async () => NOT_HERE,
  signInFirst: async () => NOT_HERE,
  signOut: async () => NOT_HERE,
  trails: async () => NOT_HERE,
  forecasts: async () => ok({ scores: [], record: { reached: 9, hits: 7, notReached: 2, medianErrorMin: 6 } }),
  soundings: async () => NOT_HERE,
  readings: async (channelId, fromMs, toMs, points) => ok(sampleReadings(room, channelId, fromMs, toMs, points)),
  bed: async () => NOT_HERE,
  alarms: async () =>
    ok(
      (room.picture.value?.alarms ?? []).map((alarm) => ({
        ...alarm,
        state: 'normal',
        acknowledgedBy: 'Ines',
        changedMs: alarm.activatedMs + 1_500_000,
      })),
    ),
  acknowledge: async () => NOT_HERE,
  alarmDeed: async () => NOT_HERE,
  sources: async () => ok(sampleSources),
  nameSource: async () => NOT_HERE,
  malformed: async () => ok([]),
  addBoard: async () => NOT_HERE,
  recipe: async () =>
    ok({
      publishLine:
        "mosquitto_pub -h 192.168.1.20 -p 1883 -u board-7 -P 'plain-otter-31' -q 1 -t tanks/l6/temperature -m 26.3",
      host: '192.168.1.20',
      port: 1883,
      tls: false,
      user: 'board-7',
      topicExample: 'tanks/l6/temperature',
      statusTopic: 'boards/board-7/status',
      remark: 'The password of a board is shown once, when the board is added.',
    }),
  place: async (id) => {
    const place = room.picture.value?.places.find((one) => one.id === id);
    if (place === undefined) return NOT_HERE;
    const { bed: _, work: __, ...body } = place;
    return ok({ version: 3, effectiveMs: SAMPLE_NOW_MS, recordedMs: SAMPLE_NOW_MS, body });
  },
  site: async () => NOT_HERE,
  changeSite: async () => NOT_HERE,
  addPlace: async () => NOT_HERE,
  changePlace: async () => NOT_HERE,
  log: async () => ok([]),
  entry: async () => NOT_HERE,
  write: async () => NOT_HERE,
  sendPhoto: async () => NOT_HERE,
  stock: async () => ok({ lots: [], doubts: [], disinfected: [] }),
  batches: async () => ok([]),
  batch: async () => NOT_HERE,
  stageStays: async () => ok([]),
  buttons: async () => ok([]),
  putButton: async () => NOT_HERE,
  dropButton: async () => NOT_HERE,
  removePlace: async () => NOT_HERE,
  board: async (id) => ok({ version: 0, effectiveMs: SAMPLE_NOW_MS, recordedMs: SAMPLE_NOW_MS, body: { id } }),
  putBoard: async () => NOT_HERE,
  runs: async () => ok([]),
  run: async () => NOT_HERE,
  round: async () => ok({ overdue: [], lastSeen: {}, onSite: [] }),
  papers: async () => NOT_HERE,
  retiredPlaces: async () => ok([]),
  reviews: async () => ok([]),
  reviewRecord: async () => NOT_HERE,
  reviewSince: async () => NOT_HERE,
  beginReview: async () => NOT_HERE,
  reviewDifferences: async () => NOT_HERE,
});
