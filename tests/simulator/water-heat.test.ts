import { describe, expect, it } from 'vitest';
import { stillWater } from '../../simulator/water.js';
import { plainTank, quietRoom, waterAfter } from './plain-tank.js';

const heater = (powerKw: number) => ({ powerKw, setC: 24, bandC: 0.4, circuit: 'c' });

describe('heat in a simulated tank', () => {
  // Arithmetic: kW x 3600 / (V x 1.023 kg/L x 3.99 kJ/(kg K)), no losses. tests/fixtures/bench-calculations.json,
  // stuck_heater_rise and stuck_heater_rise_small_tray.
  it.each([
    [3, 1000, 2.6459],
    [1, 75, 11.7596],
  ])('a %s kW heater stuck on in %s L climbs %s °C in an hour', (powerKw, volumeL, perHour) => {
    const tank = plainTank({ volumeL, heater: heater(powerKw) });
    const start = stillWater(tank, 20, 33);
    const end = waterAfter(start, tank, quietRoom({ heater: 'on' }), 600);
    const climbed = (end.temperatureC.upper + end.temperatureC.lower) / 2 - 20;
    expect(Math.abs((6 * climbed) / perHour - 1)).toBeLessThan(0.005);
  });

  it('a thermostat keeps its tank inside its band, whatever the size of the step', () => {
    const tank = plainTank({ volumeL: 60, heater: heater(3), wallWPerM2K: 5, openShare: 0.5 });
    const around = quietRoom({ roomC: 16 });
    for (const stepS of [1, 10, 60]) {
      let water = waterAfter(stillWater(tank, 24, 33), tank, around, 3600, stepS);
      for (let passed = 0; passed < 4 * 3600; passed += stepS) {
        water = waterAfter(water, tank, around, stepS, stepS);
        expect(water.temperatureC.lower).toBeGreaterThan(24 - 0.2 - 0.05);
        expect(water.temperatureC.lower).toBeLessThan(24 + 0.2 + 0.05);
      }
    }
  });

  it('a dead heater lets its tank walk to the room, and a little below it by evaporation', () => {
    const tank = plainTank({ volumeL: 60, depthM: 0.4, heater: heater(1), wallWPerM2K: 5, openShare: 1 });
    const end = waterAfter(stillWater(tank, 24, 33), tank, quietRoom({ roomC: 18, heater: 'off' }), 6 * 86_400, 60);
    expect(end.temperatureC.upper).toBeLessThan(18);
    expect(end.temperatureC.upper).toBeGreaterThan(15);
  });

  it('a chiller draws its tank down and then holds it', () => {
    const tank = plainTank({ chiller: { powerKw: 1, setC: 16, bandC: 0.4, circuit: 'c' } });
    const end = waterAfter(stillWater(tank, 20, 33), tank, quietRoom(), 6 * 3600, 60);
    expect(Math.abs(end.temperatureC.lower - 16)).toBeLessThan(0.25);
  });

  it('lies in layers when the air is off and the heater on, and mixes when the air is back', () => {
    const tank = plainTank({ heater: heater(1) });
    const still = waterAfter(stillWater(tank, 20, 33), tank, quietRoom({ heater: 'on', airOn: false }), 3600);
    expect(still.temperatureC.upper - still.temperatureC.lower).toBeGreaterThan(0.3);
    const stirred = waterAfter(still, tank, quietRoom({ heater: 'off' }), 300);
    expect(Math.abs(stirred.temperatureC.upper - stirred.temperatureC.lower)).toBeLessThan(0.02);
  });

  it('gives a drained tank no heat from its dry heater', () => {
    const tank = plainTank({ heater: heater(3) });
    const dry = waterAfter(stillWater(tank, 20, 33), tank, quietRoom({ drainLMin: 80 }), 600);
    const end = waterAfter(dry, tank, quietRoom({ drainLMin: 80, heater: 'on' }), 600);
    expect(end.temperatureC.upper).toBeCloseTo(dry.temperatureC.upper, 6);
  });

  it('cold water run through a tank carries its share of cold: after one volume 37 % of the difference is left', () => {
    const tank = plainTank();
    const around = quietRoom({ flowLMin: 40, supply: { temperatureC: 15, salinity: 33, oxygenMgL: 8 } });
    const end = waterAfter(stillWater(tank, 25, 33), tank, around, 600, 60);
    expect((end.temperatureC.upper + end.temperatureC.lower) / 2).toBeCloseTo(15 + 10 * Math.exp(-1), 6);
  });
});
