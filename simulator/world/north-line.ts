import type { Line } from '../supply.js';
import type { Tank } from '../tank.js';
import { tank } from './build.js';

/** Broodstock: adults in sand or crushed aragonite, on water from the deep intake as it comes. */
export const northLine: Line = {
  id: 'north',
  circuit: 'circuit-1',
  sea: { meanC: 17.2, dayC: 0.4, tideC: 0.35, salinity: 33.2, tideSalinity: 0.25, perMmRunoff: 0.05 },
  headerL: 3000,
  headerDepthM: 1.5,
  pumpLMin: 60,
  warmedToC: undefined,
  oxygenShare: 0.96,
};

const own = {
  line: 'north',
  room: 'broodstock-room',
  airMain: 'air-a',
  stage: 'conditioning',
  regime: 'flow-through',
  depthM: 0.7,
  openShare: 0.8,
} as const;

const warming = (setC: number, powerKw: number) => ({ setC, powerKw, bandC: 0.4, circuit: 'circuit-1' });

export const northTanks: readonly Tank[] = [
  tank({
    ...own,
    id: 'B1',
    volumeL: 1200,
    flowLMin: 5,
    bed: { kind: 'sand', depthM: 0.12, uptakeMgM2H: 28 },
    heater: warming(19.5, 3),
    animals: { restMgH: 210, feedingShare: 0.6 },
  }),
  tank({
    ...own,
    id: 'B2',
    volumeL: 1200,
    flowLMin: 5,
    bed: { kind: 'aragonite', depthM: 0.1, uptakeMgM2H: 22 },
    heater: warming(19.5, 3),
    animals: { restMgH: 190, feedingShare: 0.6 },
  }),
  tank({
    ...own,
    id: 'B3',
    volumeL: 900,
    flowLMin: 4,
    bed: { kind: 'sand', depthM: 0.12, uptakeMgM2H: 30 },
    heater: warming(18.5, 3),
    animals: { restMgH: 170, feedingShare: 0.6 },
  }),
  tank({
    ...own,
    id: 'B4',
    volumeL: 900,
    flowLMin: 4,
    stage: 'ripe',
    bed: { kind: 'aragonite', depthM: 0.1, uptakeMgM2H: 24 },
    chiller: { setC: 16.5, powerKw: 1.5, bandC: 0.5, circuit: 'circuit-1' },
    animals: { restMgH: 180, feedingShare: 0.5 },
  }),
  tank({
    ...own,
    id: 'B5',
    volumeL: 600,
    flowLMin: 3,
    stage: 'ripe',
    depthM: 0.5,
    chiller: { setC: 16.5, powerKw: 1, bandC: 0.5, circuit: 'circuit-1' },
    animals: { restMgH: 120, feedingShare: 0.5 },
  }),
];
