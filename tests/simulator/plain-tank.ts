import type { Tank } from '../../simulator/tank.js';
import type { Surroundings, Water } from '../../simulator/water.js';
import { stepWater } from '../../simulator/water-step.js';

/** A bare 400 L tank that loses no heat, with what a test is about. */
export const plainTank = (own: Partial<Tank> = {}): Tank => ({
  id: 'T1',
  line: 'north',
  room: 'room',
  airMain: 'air-a',
  stage: 'larva',
  speciesGroup: 'warm-temperate-burrowing-clam',
  regime: 'static',
  volumeL: 400,
  depthM: 0.8,
  bed: { kind: 'none' },
  flowLMin: 0,
  fillLMin: 40,
  drainLMin: 50,
  bubblesPerH: 3,
  surfaceMPerH: 0,
  wallWPerM2K: 0,
  openShare: 0,
  animals: { restMgH: 0, feedingShare: 0 },
  algaeMgLH: 0,
  ...own,
});

/** A room as warm as the water, air on, every valve shut. */
export const quietRoom = (own: Partial<Surroundings> = {}): Surroundings => ({
  roomC: 20,
  humidity: 0.8,
  light: 0,
  supply: { temperatureC: 18, salinity: 33, oxygenMgL: 7.5 },
  flowLMin: 0,
  fillLMin: 40,
  drainLMin: 0,
  leakLMin: 0,
  airOn: true,
  heater: 'thermostat',
  chiller: 'thermostat',
  feedingPerH: 0,
  foulingPerH: 0,
  ...own,
});

export const waterAfter = (water: Water, tank: Tank, around: Surroundings, seconds: number, stepS = 10): Water => {
  let now = water;
  const steps = Math.round(seconds / stepS);
  for (let i = 0; i < steps; i++) now = stepWater(now, tank, around, stepS);
  return now;
};
