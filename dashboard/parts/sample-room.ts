import { makeChannelId } from '../../rules/channel.js';
import type { Quantity } from '../../rules/quantity.js';
import type { Stage } from '../../rules/stage/stage.js';
import type { Trails } from '../../rules/wire/api.js';
import type { ChannelPicture, Picture, PlacePicture, Wants } from '../../rules/wire/picture.js';

import { SAMPLE_NOW_MS, type SampleRoom } from './sample-name.js';
import { TROUBLE } from './sample-trouble.js';

export type Sample = { readonly picture: Picture; readonly trails: Trails };

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
