import { describe, expect, it } from 'vitest';
import { stepPair, stepSingle } from '../../simulator/linear-step.js';
import type { Tank } from '../../simulator/tank.js';
import { stillWater, type Water } from '../../simulator/water.js';
import { plainTank, quietRoom, waterAfter } from './plain-tank.js';

const loaded = (own: Partial<Tank>): Tank =>
  plainTank({
    wallWPerM2K: 5,
    openShare: 0.7,
    surfaceMPerH: 0.03,
    flowLMin: 3,
    bed: { kind: 'sand', depthM: 0.1, uptakeMgM2H: 25 },
    animals: { restMgH: 250, feedingShare: 0.6 },
    ...own,
  });

/** Six hours with everything in them: a meal, two hours without air, a drain-down and a refill. */
const dayOf = (tank: Tank, stepS: number): readonly Water[] => {
  const room = { roomC: 17, flowLMin: 3 };
  const fed = waterAfter(stillWater(tank, 21, 33), tank, quietRoom({ ...room, feedingPerH: 1 }), 1800, stepS);
  const calm = waterAfter(fed, tank, quietRoom({ ...room, airOn: false, flowLMin: 0 }), 7200, stepS);
  const aired = waterAfter(calm, tank, quietRoom(room), 3600, stepS);
  const drained = waterAfter(aired, tank, quietRoom({ ...room, drainLMin: 45 }), 1200, stepS);
  return [fed, calm, aired, drained, waterAfter(drained, tank, quietRoom(room), 7800, stepS)];
};

describe('the size of the step', () => {
  it('does not show in a tank without a thermostat: one second and one minute give the same day', () => {
    const fine = dayOf(loaded({}), 1);
    const coarse = dayOf(loaded({}), 60);
    for (const [i, water] of fine.entries()) {
      const other = coarse[i];
      expect(other).toBeDefined();
      if (other === undefined) continue;
      expect(Math.abs(other.volumeL - water.volumeL)).toBeLessThan(0.01);
      expect(Math.abs(other.salinity - water.salinity)).toBeLessThan(0.002);
      expect(Math.abs(other.temperatureC.upper - water.temperatureC.upper)).toBeLessThan(0.02);
      expect(Math.abs(other.temperatureC.lower - water.temperatureC.lower)).toBeLessThan(0.02);
      expect(Math.abs(other.oxygenMgL.upper - water.oxygenMgL.upper)).toBeLessThan(0.03);
      expect(Math.abs(other.oxygenMgL.lower - water.oxygenMgL.lower)).toBeLessThan(0.03);
    }
  });

  it('shifts when a heater switches, but not by more than its band', () => {
    const tank = loaded({ heater: { powerKw: 2, setC: 21, bandC: 0.4, circuit: 'c' } });
    const [fine, coarse] = [dayOf(tank, 1).at(-1), dayOf(tank, 60).at(-1)];
    expect(Math.abs((fine?.temperatureC.lower ?? NaN) - (coarse?.temperatureC.lower ?? NaN))).toBeLessThan(0.4);
  });

  it('is nothing to a linear balance: sixty steps of a second are one of a minute', () => {
    const rates = { gain: { upper: 40, lower: 3 }, loss: { upper: 5, lower: 0.2 }, exchangePerH: 80 };
    let pair = { upper: 9, lower: 2 };
    for (let i = 0; i < 60; i++) pair = stepPair(pair, rates, 1 / 3600);
    const once = stepPair({ upper: 9, lower: 2 }, rates, 1 / 60);
    expect(pair.upper).toBeCloseTo(once.upper, 10);
    expect(pair.lower).toBeCloseTo(once.lower, 10);
  });

  // Arithmetic: without losses the sum of two layers grows by the sum of their gains.
  it('loses nothing from two layers that lose nothing', () => {
    const rates = { gain: { upper: 2, lower: 0 }, loss: { upper: 0, lower: 0 }, exchangePerH: 0.5 };
    const { upper, lower } = stepPair({ upper: 1, lower: 3 }, rates, 10);
    expect(upper + lower).toBeCloseTo(4 + 20, 9);
    expect(stepSingle(5, 2, 0, 3)).toBe(11);
  });
});
