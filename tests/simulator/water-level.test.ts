import { describe, expect, it } from 'vitest';
import { stillWater } from '../../simulator/water.js';
import { plainTank, quietRoom, waterAfter } from './plain-tank.js';

describe('level and salt in a simulated tank', () => {
  it('drains at the rate of its drain, keeps its dregs, and fills again to the overflow when the drain is shut', () => {
    const tank = plainTank();
    const open = quietRoom({ drainLMin: 50 });
    const half = waterAfter(stillWater(tank, 20, 33), tank, open, 240, 60);
    expect(half.volumeL).toBeCloseTo(200, 6);
    const empty = waterAfter(half, tank, open, 600, 60);
    expect(empty.volumeL).toBeCloseTo(0.8, 9);
    const filling = waterAfter(empty, tank, quietRoom(), 300, 60);
    expect(filling.volumeL).toBeCloseTo(200.8, 6);
    const full = waterAfter(filling, tank, quietRoom(), 600, 60);
    expect(full.volumeL).toBe(400);
    expect(full.filling).toBe(false);
    expect(full.inflowLMin).toBe(0);
  });

  it('fills with the water of its line: what stays on the floor no longer counts', () => {
    const tank = plainTank();
    const empty = waterAfter(stillWater(tank, 20, 25), tank, quietRoom({ drainLMin: 50 }), 600, 60);
    const full = waterAfter(empty, tank, quietRoom(), 900, 60);
    expect(full.salinity).toBeCloseTo((0.8 * 25 + 399.2 * 33) / 400, 6);
    expect(full.temperatureC.lower).toBeCloseTo((0.8 * 20 + 399.2 * 18) / 400, 2);
  });

  it('keeps its salt while water evaporates, so that salinity creeps up by tenths a day', () => {
    const tank = plainTank({ openShare: 1 });
    const start = stillWater(tank, 24, 32);
    const end = waterAfter(start, tank, quietRoom({ roomC: 20 }), 86_400, 60);
    expect(end.volumeL).toBeLessThan(400);
    expect(end.volumeL * end.salinity).toBeCloseTo(400 * 32, 3);
    // 0.1 to 0.5 a day in still tanks: common practice, no source.
    expect(end.salinity - 32).toBeGreaterThan(0.1);
    expect(end.salinity - 32).toBeLessThan(0.5);
  });

  it('loses water through a leak and does not fill by itself', () => {
    const tank = plainTank();
    const end = waterAfter(stillWater(tank, 20, 33), tank, quietRoom({ leakLMin: 2 }), 3600, 60);
    expect(end.volumeL).toBeCloseTo(280, 6);
    expect(end.salinity).toBe(33);
  });

  it('stays full while water runs through, and follows the salinity of the line', () => {
    const tank = plainTank({ flowLMin: 4 });
    const around = quietRoom({ flowLMin: 4, supply: { temperatureC: 18, salinity: 28, oxygenMgL: 7.5 } });
    const end = waterAfter(stillWater(tank, 20, 33), tank, around, 6000, 60);
    expect(end.volumeL).toBe(400);
    expect(end.salinity).toBeCloseTo(28 + 5 * Math.exp(-1), 6);
  });
});
