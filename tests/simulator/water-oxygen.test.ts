import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { oxygenAtSaturation } from '../../simulator/seawater.js';
import { mixed, stillWater } from '../../simulator/water.js';
import { plainTank, quietRoom, waterAfter } from './plain-tank.js';

describe('oxygen in a simulated tank', () => {
  it('comes to the balance of air and animals that hand arithmetic gives', () => {
    const tank = plainTank({ bubblesPerH: 2, animals: { restMgH: 400, feedingShare: 0.5 } });
    const end = waterAfter(stillWater(tank, 20, 33), tank, quietRoom(), 12 * 3600, 60);
    // 2 (Cs - C) = (400 / 400) C / (C + 0.9): the animals of 400 L take 1 mg/L an hour with plenty of oxygen.
    const cs = oxygenAtSaturation(20, 33);
    const b = 0.9 - cs + 0.5;
    const balance = (-b + Math.sqrt(b * b + 4 * 0.9 * cs)) / 2;
    expect(mixed(end).oxygenMgL).toBeCloseTo(balance, 2);
  });

  it('comes back from nothing as fast as its air stones exchange gas: half the way in ln 2 / 2 hours', () => {
    const tank = plainTank({ bubblesPerH: 2 });
    const start = stillWater(tank, 20, 33, 0);
    const end = waterAfter(start, tank, quietRoom(), (Math.LN2 / 2) * 3600, (Math.LN2 / 2) * 60);
    expect(mixed(end).oxygenMgL / oxygenAtSaturation(20, 33)).toBeCloseTo(0.5, 3);
  });

  it('falls when the air stops, faster below than above', () => {
    const tank = plainTank({ animals: { restMgH: 300, feedingShare: 0.5 }, surfaceMPerH: 0.03 });
    const aired = waterAfter(stillWater(tank, 22, 33), tank, quietRoom(), 6 * 3600, 60);
    const end = waterAfter(aired, tank, quietRoom({ airOn: false }), 7200, 60);
    expect(mixed(end).oxygenMgL).toBeLessThan(mixed(aired).oxygenMgL - 0.8);
    expect(end.oxygenMgL.lower).toBeLessThan(end.oxygenMgL.upper - 0.2);
  });

  it('is taken faster by fed than by hungry animals, and faster in warm than in cool water', () => {
    const tank = plainTank({ animals: { restMgH: 300, feedingShare: 0.6 } });
    const leftAfterHour = (temperatureC: number, feedingPerH: number): number => {
      const start = stillWater(tank, temperatureC, 33, 0.9);
      const around = quietRoom({ airOn: false, roomC: temperatureC, feedingPerH });
      return mixed(start).oxygenMgL - mixed(waterAfter(start, tank, around, 3600, 60)).oxygenMgL;
    };
    expect(leftAfterHour(20, 1)).toBeGreaterThan(1.2 * leftAfterHour(20, 0));
    expect(leftAfterHour(26, 0)).toBeGreaterThan(1.3 * leftAfterHour(18, 0));
  });

  it('is drawn down by a bed, and further by one that has gone foul', () => {
    const bed = { kind: 'sand', depthM: 0.1, uptakeMgM2H: 40 } as const;
    const run = (tank: ReturnType<typeof plainTank>, foulingPerH: number): number =>
      waterAfter(stillWater(tank, 20, 33), tank, quietRoom({ airOn: false, foulingPerH }), 12 * 3600, 60).oxygenMgL
        .lower;
    expect(run(plainTank({ bed }), 0)).toBeLessThan(run(plainTank(), 0) - 0.5);
    expect(run(plainTank({ bed }), 1)).toBeLessThan(run(plainTank({ bed }), 0) - 0.5);
  });

  it('rises above air saturation in green water by day and sinks at night', () => {
    const tank = plainTank({
      algaeMgLH: 1,
      bubblesPerH: 0,
      surfaceMPerH: 0.05,
      animals: { restMgH: 80, feedingShare: 0 },
    });
    const day = waterAfter(stillWater(tank, 20, 33), tank, quietRoom({ light: 1 }), 6 * 3600, 60);
    expect(mixed(day).oxygenMgL).toBeGreaterThan(1.05 * oxygenAtSaturation(20, 33));
    const night = waterAfter(day, tank, quietRoom({ light: 0 }), 12 * 3600, 60);
    expect(mixed(night).oxygenMgL).toBeLessThan(oxygenAtSaturation(20, 33));
  });

  it('never falls below nothing and never becomes no number, whatever is in the tank', () => {
    const anything = fc.record({
      restMgH: fc.double({ min: 0, max: 1e6, noNaN: true }),
      volumeL: fc.double({ min: 1, max: 1e5, noNaN: true }),
      temperatureC: fc.double({ min: 0, max: 45, noNaN: true }),
      drainLMin: fc.constantFrom(0, 5, 500),
      flowLMin: fc.constantFrom(0, 3, 300),
      airOn: fc.boolean(),
      stepS: fc.constantFrom(0.1, 1, 60, 3600),
    });
    fc.assert(
      fc.property(anything, ({ restMgH, volumeL, temperatureC, stepS, ...valves }) => {
        const tank = plainTank({ volumeL, animals: { restMgH, feedingShare: 1 }, openShare: 1, wallWPerM2K: 5 });
        const end = waterAfter(stillWater(tank, temperatureC, 33), tank, quietRoom(valves), 50 * stepS, stepS);
        const { temperatureC: t, oxygenMgL: o, salinity, volumeL: v, food, bedLoad } = end;
        for (const value of [t.upper, t.lower, o.upper, o.lower, salinity, v, food, bedLoad]) {
          expect(Number.isFinite(value)).toBe(true);
        }
        expect(Math.min(o.upper, o.lower)).toBeGreaterThanOrEqual(0);
        expect(v).toBeLessThanOrEqual(volumeL);
      }),
      { seed: 20_260, numRuns: 200 },
    );
  });
});
