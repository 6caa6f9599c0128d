import type { Line } from '../supply.js';
import type { Tank } from '../tank.js';
import { tank } from './build.js';

/** Embryos and larvae in still, heated, gently aerated water; the header is filtered and warmed for water changes. */
export const larvalLine: Line = {
  id: 'larval',
  circuit: 'circuit-2',
  sea: { meanC: 17.4, dayC: 0.4, tideC: 0.35, salinity: 33, tideSalinity: 0.25, perMmRunoff: 0.05 },
  headerL: 1500,
  headerDepthM: 1.2,
  pumpLMin: 70,
  warmedToC: 22.5,
  oxygenShare: 0.98,
};

const own = {
  line: 'larval',
  room: 'larval-room',
  airMain: 'air-b',
  stage: 'larva',
  depthM: 0.9,
  openShare: 0.35,
  bubblesPerH: 2.2,
} as const;

const warming = (setC: number, powerKw: number) => ({ setC, powerKw, bandC: 0.3, circuit: 'circuit-2' });

export const larvalTanks: readonly Tank[] = [
  tank({
    ...own,
    id: 'L1',
    stage: 'embryo',
    volumeL: 120,
    depthM: 0.5,
    heater: warming(22, 0.3),
    animals: { restMgH: 3, feedingShare: 0 },
  }),
  // A small vessel with the heater of a big one: while its thermostat works nobody notices.
  tank({
    ...own,
    id: 'L2',
    volumeL: 60,
    depthM: 0.45,
    heater: warming(24, 3),
    animals: { restMgH: 4, feedingShare: 0.5 },
  }),
  tank({
    ...own,
    id: 'L3',
    volumeL: 400,
    drainLMin: 80,
    heater: warming(23.5, 1),
    animals: { restMgH: 26, feedingShare: 0.5 },
  }),
  tank({
    ...own,
    id: 'L4',
    volumeL: 440,
    drainLMin: 90,
    heater: warming(23.3, 1),
    animals: { restMgH: 24, feedingShare: 0.5 },
  }),
  tank({
    ...own,
    id: 'L5',
    volumeL: 400,
    drainLMin: 80,
    heater: warming(23, 1),
    animals: { restMgH: 30, feedingShare: 0.5 },
  }),
];
