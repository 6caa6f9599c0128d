import type { AlarmPicture } from '../../rules/alarm/alarm.js';
import { makeChannelId } from '../../rules/channel.js';
import type { Finding } from '../../rules/conditions/finding.js';
import type { Quantity } from '../../rules/quantity.js';
import type { Stage } from '../../rules/stage/stage.js';
import type { Trails } from '../../rules/wire/api.js';
import type { ChannelPicture, Picture, PlacePicture, Wants } from '../../rules/wire/picture.js';

/** Rooms of an invented hatchery, for looking at every part without a gateway. No reading here was ever measured. */
export const SAMPLE_ROOMS = ['calm', 'alarmed', 'storm', 'forty', 'sixty', 'one', 'empty', 'lost', 'broker'] as const;
export type SampleRoom = (typeof SAMPLE_ROOMS)[number];
export const isSampleRoom = (text: string): text is SampleRoom => SAMPLE_ROOMS.some((room) => room === text);

export type Sample = { readonly picture: Picture; readonly trails: Trails };

/** 02:21 on a winter night in the sample's zone. */
export const SAMPLE_NOW_MS = Date.UTC(2026, 10, 25, 7, 21, 8);
const MINUTE_MS = 60_000;
const HOUR_MS = 60 * MINUTE_MS;
const POINTS = 60;

const WANTS: { readonly [stage in 'conditioning' | 'larva' | 'post-set']: { readonly [quantity: string]: Wants } } = {
  conditioning: {
    temperature: { targetLow: 18.3, targetHigh: 23.9, limitLow: 16, limitHigh: 26, ceilingHigh: 28, confirmed: true },
    salinity: { targetLow: 28, targetHigh: 30, limitLow: 25, limitHigh: 33, confirmed: true },
    'oxygen-saturation': { targetLow: 80, targetHigh: 105, limitLow: 60, limitHigh: 115, confirmed: true },
  },
  larva: {
    temperature: { targetLow: 24, targetHigh: 28, limitLow: 22, limitHigh: 30, ceilingHigh: 32, confirmed: true },
    salinity: { targetLow: 26, targetHigh: 30, limitLow: 23, limitHigh: 33, confirmed: true },
    'oxygen-saturation': { targetLow: 80, targetHigh: 105, limitLow: 65, limitHigh: 115, confirmed: true },
  },
  'post-set': {
    temperature: { targetLow: 22, targetHigh: 26, limitLow: 18, limitHigh: 29, ceilingHigh: 31, confirmed: false },
    salinity: { targetLow: 26, targetHigh: 30, limitLow: 20, limitHigh: 33, confirmed: false },
    'oxygen-saturation': { targetLow: 80, limitLow: 65, confirmed: false },
  },
};
const QUANTITIES: readonly Quantity[] = ['temperature', 'salinity', 'oxygen-saturation'];

type Line = { readonly id: string; readonly name: string; readonly letter: string; readonly stage: keyof typeof WANTS };
const LINES: readonly Line[] = [
  { id: 'north-line', name: 'North line', letter: 'B', stage: 'conditioning' },
  { id: 'larval-line', name: 'Larval line', letter: 'L', stage: 'larva' },
  { id: 'seed-line', name: 'Seed line', letter: 'S', stage: 'post-set' },
  { id: 'east-line', name: 'East line', letter: 'E', stage: 'conditioning' },
  { id: 'dock-line', name: 'Dock line', letter: 'D', stage: 'post-set' },
  { id: 'west-line', name: 'West line', letter: 'W', stage: 'larva' },
];
const SIZES: { readonly [room in SampleRoom]: readonly number[] } = {
  calm: [5, 5, 4],
  alarmed: [5, 5, 4],
  storm: [5, 5, 4],
  lost: [5, 5, 4],
  broker: [5, 5, 4],
  forty: [10, 10, 8, 6, 6],
  sixty: [10, 10, 10, 10, 10, 10],
  one: [3],
  empty: [],
};

/** The room as it would come from a gateway, with the trail of its last three hours. */
export const sampleRoom = (room: SampleRoom, nowMs: number = SAMPLE_NOW_MS): Sample => {
  const counts = SIZES[room];
  const lines = LINES.slice(0, counts.length);
  const places: PlacePicture[] = lines.flatMap((line, row) => [
    { id: line.id, kind: 'line', name: line.name, order: row },
    ...tanks(line, counts[row] ?? 0, nowMs),
  ]);
  const channels = places.flatMap((place, index) => (place.kind === 'tank' ? channelsOf(place, index, nowMs) : []));
  const picture: Picture = {
    atMs: nowMs,
    sequence: 412,
    site: {
      id: 'saltmarsh-lane-7k2q',
      name: 'Saltmarsh Lane',
      zone: 'America/New_York',
      temperatureUnit: 'C',
      hours: 24,
      demo: true,
    },
    places,
    channels,
    alarms: [],
    boards: [{ id: 'north-1', state: 'online', sinceMs: nowMs - 40 * HOUR_MS, lastReadingMs: nowMs, malformed: 0 }],
    link: { broker: room === 'broker' ? 'down' : 'up', sinceMs: nowMs - 11 * MINUTE_MS },
    lastReadingMs: nowMs - 1000,
    unnamedSources: 0,
  };
  const told = TROUBLE[room](picture, nowMs);
  return { picture: told, trails: trailsOf(told, nowMs) };
};

const tanks = ({ id, letter, stage }: Line, count: number, nowMs: number): readonly PlacePicture[] =>
  Array.from({ length: count }, (_, index) => ({
    id: `${letter.toLowerCase()}${index + 1}`,
    kind: 'tank',
    name: `${letter}${index + 1}`,
    order: index,
    lineId: id,
    stage: stage satisfies Stage,
    stageSinceMs: nowMs - (stage === 'larva' ? 5 : 31) * 24 * HOUR_MS,
    speciesGroup: 'hard-clam',
    volumeL: 400,
    regime: stage === 'larva' ? 'static' : 'flow-through',
    ...(stage === 'conditioning' ? { bed: { kind: 'sand', depthM: 0.08 } as const } : {}),
  }));

/** A slow wander between −1 and 1. */
export const sampleWave = (seed: number, step: number): number =>
  0.6 * Math.sin(seed * 2.4 + step / 9) +
  0.28 * Math.sin(seed * 5.1 + step / 3.1) +
  0.12 * Math.sin(seed * 9.7 + step * 1.7);

const channelsOf = (place: PlacePicture, seed: number, nowMs: number): readonly ChannelPicture[] =>
  QUANTITIES.map((quantity, column) => {
    const wants = WANTS[stageKey(place)][quantity];
    const { targetLow = 80, targetHigh = 105 } = wants ?? {};
    const value =
      quantity === 'temperature' && place.stage === 'conditioning'
        ? 21.1 + sampleWave(seed + column, POINTS) * 0.4
        : (targetLow + targetHigh) / 2 + (sampleWave(seed * 1.7 + column, POINTS) * (targetHigh - targetLow)) / 4;
    return {
      id: makeChannelId({ placeId: place.id, quantity }),
      placeId: place.id,
      quantity,
      computed: false,
      state: 'in-target',
      sinceMs: nowMs - 8 * HOUR_MS,
      value,
      atMs: nowMs - 1000 * (1 + (seed % 9)),
      periodMs: 10_000,
      ...(wants === undefined ? {} : { wants }),
    };
  });

const stageKey = ({ stage }: PlacePicture): keyof typeof WANTS =>
  stage === 'larva' || stage === 'post-set' ? stage : 'conditioning';

/** The trail before now: a wave that ends at the channel's value, or a straight climb or fall into trouble. */
const trailsOf = (picture: Picture, nowMs: number): Trails => {
  const trails = Object.fromEntries(
    picture.channels.map((channel, seed) => [channel.id, trailTo(channel, seed)] as const),
  );
  return { fromMs: nowMs - 3 * HOUR_MS, toMs: nowMs, stepMs: (3 * HOUR_MS) / POINTS, trails };
};

const trailTo = ({ value, wants, state }: ChannelPicture, seed: number): readonly (number | null)[] => {
  const { targetLow = 80, targetHigh = 105 } = wants ?? {};
  const end = value ?? (targetLow + targetHigh) / 2;
  const from = state === 'in-target' ? end : (targetLow + targetHigh) / 2;
  const size = (targetHigh - targetLow) / 6;
  return Array.from({ length: POINTS }, (_, step) => {
    if (state === 'silent' && step > POINTS - 5) return null;
    const along = state === 'in-target' ? 0 : Math.max(0, (step - POINTS * 0.4) / (POINTS * 0.6));
    return from + (end - from) * along + (sampleWave(seed, step) - sampleWave(seed, POINTS)) * size * (1 - along * 0.8);
  });
};

type Trouble = (picture: Picture, nowMs: number) => Picture;
type Change = Partial<ChannelPicture>;

const withChannel = (picture: Picture, id: string, change: Change): Picture => ({
  ...picture,
  channels: picture.channels.map((channel) => (channel.id === id ? { ...channel, ...change } : channel)),
});

const withPlace = (picture: Picture, id: string, change: Partial<PlacePicture>): Picture => ({
  ...picture,
  places: picture.places.map((place) => (place.id === id ? { ...place, ...change } : place)),
});

/** An open alarm of the sample, with whatever of its finding matters. */
export const sampleAlarm = (
  finding: Finding,
  activatedMs: number,
  change: Partial<AlarmPicture> = {},
): AlarmPicture => ({
  id: `a-${finding.condition}-${finding.placeId}`,
  subject: finding.channelId ?? finding.placeId,
  finding,
  priority: finding.priority,
  state: 'unack',
  activatedMs,
  changedMs: activatedMs,
  ...change,
});

/** The heater of L2, stuck on since 01:40. */
export const heaterStuck = (nowMs: number): AlarmPicture =>
  sampleAlarm(
    {
      condition: 'heater-stuck-on',
      placeId: 'l2',
      channelId: 'l2.temperature',
      priority: 'high',
      sinceMs: nowMs - 41 * MINUTE_MS,
      value: 29.9,
      perHour: 2.9,
      line: { kind: 'ceiling', side: 'high', value: 32 },
      harm: {
        atMs: nowMs + 44 * MINUTE_MS,
        earliestMs: nowMs + 34 * MINUTE_MS,
        latestMs: nowMs + 59 * MINUTE_MS,
        basis: ['slope-40-min'],
      },
      evidence: ['only-this-tank'],
      checks: ['heater-off-at-wall', 'air-running', 'cool-slowly-sealed-ice'],
    },
    nowMs - 7 * MINUTE_MS,
  );

const lowSalinity = (picture: Picture, id: string, value: number): Picture =>
  withChannel(picture, `${id}.salinity`, { state: 'outside-target', value });

const alarmed: Trouble = (start, nowMs) => {
  let picture = withChannel(start, 'l2.temperature', {
    state: 'outside-target',
    value: 29.9,
    sinceMs: nowMs - 41 * MINUTE_MS,
  });
  picture = withChannel(picture, 'b3.oxygen-saturation', {
    state: 'outside-target',
    value: 74,
    sinceMs: nowMs - 38 * MINUTE_MS,
  });
  picture = withChannel(picture, 'b5.oxygen-saturation', {
    state: 'silent',
    atMs: nowMs - 12 * MINUTE_MS,
    sinceMs: nowMs - 9 * MINUTE_MS,
    notWatched: 'silent',
  });
  picture = withPlace(picture, 'l4', {
    work: {
      id: 'w1',
      kind: 'drain-down',
      by: 'Tomas',
      fromMs: nowMs - 11 * MINUTE_MS,
      untilMs: nowMs + 24 * MINUTE_MS,
    },
  });
  picture = ['s1', 's2', 's3', 's4'].reduce((room, id, index) => lowSalinity(room, id, 24.6 - index * 0.2), picture);
  const silent = sampleAlarm(
    {
      condition: 'silent',
      placeId: 'b5',
      channelId: 'b5.oxygen-saturation',
      priority: 'low',
      sinceMs: nowMs - 12 * MINUTE_MS,
    },
    nowMs - 9 * MINUTE_MS,
  );
  const fresh = sampleAlarm(
    {
      condition: 'line-moved-together',
      placeId: 'seed-line',
      priority: 'low',
      sinceMs: nowMs - 70 * MINUTE_MS,
      evidence: ['intake-agrees'],
    },
    nowMs - 50 * MINUTE_MS,
  );
  return { ...picture, alarms: [silent, fresh, heaterStuck(nowMs)] };
};

/** Three loud alarms, one of them answered, and a probe that cannot be believed. */
const storm: Trouble = (start, nowMs) => {
  let picture = alarmed(start, nowMs);
  picture = withChannel(picture, 'l1.oxygen-saturation', { state: 'outside-limit', value: 61 });
  picture = withChannel(picture, 'b1.temperature', { state: 'outside-limit', value: 26.4 });
  picture = withChannel(picture, 'l5.salinity', { state: 'not-plausible', value: 27.9 });
  picture = withChannel(picture, 'b2.salinity', { notWatched: 'no-limit' });
  const oxygen = sampleAlarm(
    {
      condition: 'oxygen-falling',
      placeId: 'l1',
      channelId: 'l1.oxygen-saturation',
      priority: 'high',
      sinceMs: nowMs - 26 * MINUTE_MS,
      value: 61,
      perHour: -14,
      line: { kind: 'limit', side: 'low', value: 65 },
      evidence: ['only-this-tank'],
      checks: ['air-running', 'blower-running', 'spare-air'],
    },
    nowMs - 3 * MINUTE_MS,
    { state: 'ack', acknowledgedBy: 'Ines', acknowledgedMs: nowMs - 2 * MINUTE_MS },
  );
  const warm = sampleAlarm(
    {
      condition: 'above-limit',
      placeId: 'b1',
      channelId: 'b1.temperature',
      priority: 'medium',
      sinceMs: nowMs - 15 * MINUTE_MS,
      value: 26.4,
      perHour: 0.3,
      line: { kind: 'limit', side: 'high', value: 26 },
      unconfirmed: true,
    },
    nowMs - 5 * MINUTE_MS,
  );
  return { ...picture, alarms: [...picture.alarms, oxygen, warm] };
};

const forty: Trouble = (start, nowMs) => {
  const picture = withChannel(alarmed(start, nowMs), 'd4.temperature', { state: 'outside-target', value: 21.4 });
  return withChannel(picture, 'e6.oxygen-saturation', { state: 'outside-target', value: 77 });
};

const unchanged: Trouble = (picture) => picture;
const drained: Trouble = (start, nowMs) =>
  withPlace(start, 'l4', {
    work: {
      id: 'w1',
      kind: 'drain-down',
      by: 'Tomas',
      fromMs: nowMs - 11 * MINUTE_MS,
      untilMs: nowMs + 24 * MINUTE_MS,
    },
  });

const TROUBLE: { readonly [room in SampleRoom]: Trouble } = {
  calm: drained,
  alarmed,
  storm,
  forty,
  sixty: unchanged,
  one: unchanged,
  empty: unchanged,
  lost: alarmed,
  broker: unchanged,
};
