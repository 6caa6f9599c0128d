import type { Bed } from '../../../rules/place.js';
import { HOUR, larvae, NIGHT_MS, site, WATER, type Watch } from '../../support/watch.js';
import { northLine, one, type Scenario } from './scenario.js';

/** 13:00 of the next day, while people work. */
const NOON_MS = NIGHT_MS + 15 * HOUR;
const SATURATION = 'l1.oxygen-saturation';

const bedded = (bed: Partial<Bed>) =>
  site(
    [
      larvae('l1', {
        stage: 'conditioning',
        regime: 'flow-through',
        heaterW: 0,
        bed: {
          kind: 'sand',
          depthM: 0.1,
          calibration: { kind: 'core', depthMm: 12, atMs: NOON_MS - 72 * HOUR, transport: 8, pumped: false },
          limitDepthMm: 5,
          cleanedAtMs: NOON_MS - 24 * HOUR,
          ...bed,
        },
      }),
    ],
    { l1: { probes: WATER } },
  );

const changed =
  (settings: Scenario['settings']) =>
  (watched: Watch): void => {
    watched.tell({ kind: 'hatchery', atMs: watched.now(), hatchery: settings });
  };

/** Lowest at 06:00, highest at 18:00; the watch begins at 22:00 and has lived an hour. */
const swings = (low: (day: number) => number) => (minute: number) => {
  const sinceMidnight = minute + 23 * 60;
  const lowest = low(Math.floor(sinceMidnight / 1440));
  return (lowest + 103) / 2 - ((103 - lowest) / 2) * Math.cos((2 * Math.PI * (sinceMidnight - 6 * 60)) / 1440);
};

const handSays =
  (value: number) =>
  (watched: Watch): void => {
    watched.tell({ kind: 'hand', atMs: watched.now(), placeId: 'l1', quantity: 'temperature', value });
  };

const silent = (...places: readonly string[]) =>
  Object.fromEntries(places.flatMap((id) => WATER.map((quantity) => [`${id}.${quantity}`, undefined])));

const cold = { limitLow: 18, ceilingLow: 15, confirmed: true };

/** Lines passed, and what is looked at by day. */
export const OF_LINES: readonly Scenario[] = [
  {
    code: 'above-limit',
    subject: 'l1.temperature',
    settings: one({ heaterW: 0 }),
    calm: 30,
    trouble: { minutes: 10, courses: { 'l1.temperature': 28.6 } },
    mended: { minutes: 10, courses: {} },
    eye: 'l1.temperature',
  },
  {
    code: 'below-limit',
    subject: 'l1.oxygen-mg-l',
    settings: one(),
    calm: 30,
    trouble: { minutes: 10, courses: { 'l1.oxygen-mg-l': 3.9 } },
    mended: { minutes: 10, courses: {} },
    eye: 'l1.oxygen-mg-l',
  },
  {
    code: 'above-ceiling',
    subject: 'l1.temperature',
    settings: one({ heaterW: 0 }),
    calm: 30,
    trouble: { minutes: 5, courses: { 'l1.temperature': 30.6 } },
    mended: { minutes: 10, courses: {} },
    eye: 'l1.temperature',
  },
  {
    code: 'below-ceiling',
    subject: 'l1.temperature',
    settings: one({ heaterW: 0, wants: { temperature: cold } }),
    calm: 30,
    trouble: { minutes: 5, courses: { 'l1.temperature': 14.4 } },
    mended: { minutes: 10, courses: {} },
    eye: 'l1.temperature',
  },
  {
    code: 'dawn-oxygen-falling',
    subject: SATURATION,
    settings: one({ heaterW: 0 }, ['temperature', 'oxygen-saturation']),
    calm: 60,
    trouble: { minutes: 4 * 1440 + 840, courses: { [SATURATION]: swings((day) => 88 - 5 * day) } },
    mended: { minutes: 2 * 1440, courses: { [SATURATION]: 97 } },
    eye: SATURATION,
  },
  {
    code: 'supersaturated',
    subject: SATURATION,
    settings: one({ heaterW: 0 }, ['temperature', 'oxygen-saturation']),
    calm: 60,
    trouble: { minutes: 15 * 60, courses: { [SATURATION]: 113 } },
    mended: { minutes: 3 * 60, courses: { [SATURATION]: 99 } },
    eye: SATURATION,
  },
  {
    code: 'clean-bed-by',
    subject: 'l1',
    settings: bedded({}),
    startMs: NOON_MS,
    calm: 60,
    trouble: { minutes: 60, courses: {}, begins: changed(bedded({ wasteMmolCM2Day: 15 })) },
    mended: { minutes: 60, courses: {}, begins: changed(bedded({})) },
    eye: 'l1.oxygen-mg-l',
  },
  {
    code: 'upkeep-overdue',
    subject: 'l1',
    // A day, and a quarter of it: due two hours after the watch began.
    settings: one({ heaterW: 0, stageSinceMs: NOON_MS - 28 * HOUR, upkeepH: { 'water-change': 24 } }),
    startMs: NOON_MS,
    calm: 30,
    trouble: { minutes: 150, courses: {} },
    mended: {
      minutes: 20,
      courses: {},
      begins: (watched) => watched.declares('water-change', 'l1', 30, { endedMs: watched.now() }),
    },
  },
  {
    code: 'work-overdue',
    subject: 'l1',
    settings: one(),
    calm: 30,
    trouble: { minutes: 40, courses: {}, begins: (watched) => watched.declares('feeding-flow-off', 'l1', 20) },
    mended: {
      minutes: 5,
      courses: {},
      begins: (watched) => watched.tell({ kind: 'work', atMs: watched.now(), work: [] }),
    },
    eye: 'l1.oxygen-mg-l',
  },
];

/** Probes, boards and clocks. */
export const OF_PROBES: readonly Scenario[] = [
  {
    code: 'silent',
    subject: 'l1.temperature',
    settings: one(),
    calm: 30,
    trouble: { minutes: 12, courses: { 'l1.temperature': undefined } },
    mended: { minutes: 2, courses: {} },
    eye: 'l1.temperature',
  },
  {
    code: 'not-plausible',
    subject: 'l1.temperature',
    settings: one(),
    calm: 30,
    trouble: { minutes: 5, courses: { 'l1.temperature': 91 } },
    mended: { minutes: 5, courses: {} },
    eye: 'l1.temperature',
  },
  {
    code: 'stuck',
    subject: 'l1.temperature',
    settings: one({ heaterW: 0 }),
    calm: 14 * 60,
    // A probe that stands still is the very trouble: there is no other that could invent it.
    trouble: { minutes: 80, courses: { 'l1.temperature': 24 }, stuck: new Set(['l1.temperature']) },
    mended: { minutes: 10, courses: {} },
  },
  {
    code: 'noisy',
    subject: 'l1.temperature',
    settings: one({ heaterW: 0 }),
    calm: 5 * 60,
    trouble: { minutes: 90, courses: { 'l1.temperature': (minute) => 24 + 0.4 * Math.sin(minute * 97) } },
    mended: { minutes: 90, courses: {} },
    eye: 'l1.temperature',
  },
  {
    code: 'drifting',
    subject: 'l1.temperature',
    settings: one(),
    calm: 30,
    trouble: { minutes: 40, courses: {}, begins: handSays(23.1) },
    mended: { minutes: 40, courses: {}, begins: handSays(24) },
    eye: 'l1.temperature',
  },
  {
    code: 'clock-wrong',
    subject: 'b1',
    settings: one(),
    calm: 30,
    trouble: {
      minutes: 25,
      courses: { 'l1.temperature': undefined },
      also: (watched) =>
        watched.tell({
          kind: 'reading',
          atMs: watched.now(),
          sourceId: 1,
          raw: 24 + (watched.now() % 7) / 100,
          deviceMs: 1_000,
        }),
    },
    mended: { minutes: 25, courses: {} },
    eye: 'l1.temperature',
  },
  {
    code: 'battery-low',
    subject: 'l1.battery',
    settings: one({}, [...WATER, 'battery']),
    calm: 30,
    trouble: { minutes: 30, courses: { 'l1.battery': 3.2 } },
    mended: { minutes: 30, courses: {} },
    eye: 'l1.battery',
  },
  {
    code: 'board-offline',
    subject: 'b1',
    settings: northLine,
    calm: 30,
    trouble: { minutes: 12, courses: silent('s1', 's2') },
    mended: { minutes: 2, courses: {} },
    eye: 's1.temperature',
  },
  {
    code: 'everything-silent',
    subject: 'wrack-cove-test',
    settings: northLine,
    calm: 30,
    trouble: { minutes: 10, courses: silent('s1', 's2', 's3') },
    mended: { minutes: 5, courses: {} },
    eye: 's1.temperature',
  },
];
