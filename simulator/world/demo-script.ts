import type { Event, Happening, Schedule } from '../event.js';
import type { Hatchery } from '../hatchery.js';
import { routineOf } from '../routine.js';

const MINUTE_MS = 60_000;
const SLOT_MS = 30 * MINUTE_MS;

/** Minutes from the beginning of the half hour. */
type Scene = readonly (readonly [fromMinute: number, toMinute: number, Happening])[];

/**
 * A heater welded on in the smallest larval vessel; somebody pulls its plug, runs cool water through and puts it back
 * in order. Within the quarter of an hour after the plug the vessel is where it was.
 */
const HEATER: Scene = [
  [0.8, 8.5, { kind: 'heater-stuck-on', tank: 'L2' }],
  [8.5, 16.5, { kind: 'heater-dead', tank: 'L2' }],
  [9.5, 15.5, { kind: 'water-change', tank: 'L2', lMin: 11, temperatureC: 22, declared: false }],
];

const FIRST: Scene = [
  [1, 21, { kind: 'rain', line: 'seed', mmH: 9 }],
  ...HEATER,
  [2.5, 16, { kind: 'probe-fault', place: 'S2', quantity: 'oxygen-mg-l', fault: { kind: 'silent' } }],
  [2.5, 13, { kind: 'drain-down', tank: 'L4', declared: false }],
];

/** One for each half hour after the first, then from the beginning: a demo left open stays alive. */
const LATER: readonly Scene[] = [
  [
    [4, 24, { kind: 'flow-off', tank: 'U1', declared: false }],
    [4, 24, { kind: 'air-stone-blocked', tank: 'U1' }],
  ],
  [
    [3, 18, { kind: 'air-off', main: 'air-b' }],
    [6, 20, { kind: 'probe-fault', place: 'B2', quantity: 'temperature', fault: { kind: 'fault-value', value: 85 } }],
  ],
  [
    [3, 11, { kind: 'board-fault', board: 'larval-1', fault: { kind: 'offline', buffers: false } }],
    [5, 14, { kind: 'board-fault', board: 'larval-2', fault: { kind: 'offline', buffers: true } }],
    [14, 26, { kind: 'probe-fault', place: 'S3', quantity: 'salinity', fault: { kind: 'stuck' } }],
  ],
  [
    [3, 25, { kind: 'intake-pump-off', line: 'north' }],
    [3, 27, { kind: 'chiller-off', tank: 'B5' }],
  ],
  [
    [3, 13, { kind: 'leak', tank: 'L1', lMin: 5 }],
    [14, 24, { kind: 'water-change', tank: 'L1', lMin: 8, declared: false }],
    [3, 13, { kind: 'board-fault', board: 'north-1', fault: { kind: 'reboot', silentS: 60 } }],
  ],
  [...HEATER, [4, 20, { kind: 'probe-lifted', place: 'S1', declared: false }]],
];

/** The demo from `startMs` on: the day's work by the clock, and every half hour something that needs a person. */
export const demoScript = (hatchery: Hatchery, startMs: number): Schedule => {
  const routine = routineOf(hatchery);
  return (atMs) => {
    const slot = Math.floor((atMs - startMs) / SLOT_MS);
    const scene = sceneOf(slot, startMs + slot * SLOT_MS);
    const taken = new Set(scene.flatMap((event) => ('tank' in event ? [event.tank] : [])));
    // Nobody takes down a tank that has its own trouble in this half hour.
    const work = routine(atMs).filter((event) => !('tank' in event && taken.has(event.tank)));
    return [...work, ...scene.filter(({ fromMs, toMs }) => fromMs <= atMs && atMs < toMs)];
  };
};

const sceneOf = (slot: number, slotMs: number): readonly Event[] => {
  if (slot < 0) return [];
  const scene = slot === 0 ? FIRST : (LATER[(slot - 1) % LATER.length] ?? []);
  return scene.map(([from, to, happening]) => ({
    ...happening,
    fromMs: slotMs + from * MINUTE_MS,
    toMs: slotMs + to * MINUTE_MS,
  }));
};
