import type { Line } from '../supply.js';
import type { Tank } from '../tank.js';
import { tank } from './build.js';

/** Setting, post-set and nursery on the shallow intake at the creek, which shows every tide and every shower. */
export const seedLine: Line = {
  id: 'seed',
  circuit: 'circuit-2',
  sea: { meanC: 19.8, dayC: 0.9, tideC: 0.6, salinity: 31.8, tideSalinity: 0.5, perMmRunoff: 0.3 },
  headerL: 2000,
  headerDepthM: 1.4,
  pumpLMin: 110,
  warmedToC: undefined,
  oxygenShare: 0.95,
};

const own = {
  line: 'seed',
  room: 'seed-shed',
  airMain: 'air-b',
  stage: 'nursery',
  regime: 'flow-through',
  depthM: 0.6,
  openShare: 1,
} as const;

export const seedTanks: readonly Tank[] = [
  tank({
    ...own,
    id: 'S1',
    stage: 'setting',
    regime: 'recirculating',
    volumeL: 300,
    flowLMin: 0.3,
    heater: { setC: 22.5, powerKw: 1, bandC: 0.4, circuit: 'circuit-2' },
    animals: { restMgH: 40, feedingShare: 0.5 },
  }),
  tank({
    ...own,
    id: 'S2',
    stage: 'post-set',
    volumeL: 400,
    flowLMin: 4,
    animals: { restMgH: 160, feedingShare: 0.6 },
  }),
  tank({
    ...own,
    id: 'S3',
    stage: 'post-set',
    volumeL: 400,
    flowLMin: 4,
    animals: { restMgH: 140, feedingShare: 0.6 },
  }),
  tank({
    ...own,
    id: 'S4',
    volumeL: 800,
    flowLMin: 12,
    bed: { kind: 'sand', depthM: 0.03, uptakeMgM2H: 18 },
    algaeMgLH: 0.5,
    animals: { restMgH: 520, feedingShare: 0.5 },
  }),
  // An upweller, heavily loaded: well while water runs through it, in need within the hour when it does not.
  tank({
    ...own,
    id: 'U1',
    volumeL: 500,
    flowLMin: 25,
    bubblesPerH: 2,
    animals: { restMgH: 1100, feedingShare: 0.5 },
  }),
];
