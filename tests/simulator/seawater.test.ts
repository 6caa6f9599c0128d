import { describe, expect, it } from 'vitest';
import { seawaterDensityKgM3 } from '../../rules/seawater/density.js';
import { oxygenSolubilityMgL } from '../../rules/seawater/oxygen.js';
import { practicalSalinityFromConductivity } from '../../rules/seawater/salinity.js';
import {
  conductivityFromSalinity,
  heatCapacityKJPerLK,
  oxygenAtSaturation,
  vapourPressureKPa,
} from '../../simulator/seawater.js';
import { answered } from '../support/answered.js';

const grid = (low: number, high: number, step: number): readonly number[] =>
  Array.from({ length: Math.round((high - low) / step) + 1 }, (_, i) => low + i * step);

/** The largest difference over salinity and temperature. */
const worst = (salinities: readonly number[], temperatures: readonly number[], off: (s: number, t: number) => number) =>
  Math.max(...salinities.flatMap((s) => temperatures.map((t) => Math.abs(off(s, t)))));

describe('simulated seawater has formulas of its own, close to the published ones but not the same', () => {
  // PSS-78 as in rules/seawater, which is held to its published check values elsewhere.
  it('a simulated cell shows salinity within 0.035 of PSS-78 from 10 to 40 and 4 to 34 °C', () => {
    const off = worst(grid(10, 40, 1), grid(4, 34, 1), (salinity, temperatureC) => {
      const conductivityMsCm = conductivityFromSalinity(salinity, temperatureC);
      return answered(practicalSalinityFromConductivity({ conductivityMsCm, temperatureC })) - salinity;
    });
    expect(off).toBeLessThanOrEqual(0.0352);
    expect(off).toBeGreaterThan(0.01);
  });

  it('conducts nothing in no salt, and more with more salt and more warmth', () => {
    expect(conductivityFromSalinity(0, 20)).toBe(0);
    for (const t of grid(2, 36, 2)) {
      for (const s of grid(0, 42, 1)) {
        expect(conductivityFromSalinity(s + 0.5, t)).toBeGreaterThan(conductivityFromSalinity(s, t));
        if (s > 0) expect(conductivityFromSalinity(s, t + 0.5)).toBeGreaterThan(conductivityFromSalinity(s, t));
      }
    }
  });

  // Garcia and Gordon 1992 as in rules/seawater.
  it('holds oxygen within 0.02 mg/L of Garcia and Gordon from 1 to 38 °C and salinity 0 to 42', () => {
    const off = worst(grid(0, 42, 2), grid(1, 38, 1), (salinity, temperatureC) => {
      return oxygenAtSaturation(temperatureC, salinity) - answered(oxygenSolubilityMgL({ salinity, temperatureC }));
    });
    expect(off).toBeLessThanOrEqual(0.02);
    expect(off).toBeGreaterThan(0.005);
  });

  // TEOS-10, gsw 3.6.16: cp_t_exact at p 0, kJ/(kg K); density from rules/seawater.
  it.each([
    [10, 0, 4.1951],
    [10, 35, 3.9901],
    [25, 35, 3.999],
    [30, 20, 4.0749],
  ])('warms at %s °C and salinity %s like seawater, within 1 %%', (temperatureC, salinity, kjKgK) => {
    const kgL = answered(seawaterDensityKgM3({ salinity, temperatureC })) / 1000;
    expect(Math.abs(heatCapacityKJPerLK(salinity) / (kjKgK * kgL) - 1)).toBeLessThan(0.01);
  });

  // Vapour pressure over water, steam tables as commonly printed (from memory): 2.339 kPa at 20 °C, 4.247 kPa at 30 °C.
  it.each([
    [20, 2.339],
    [30, 4.247],
  ])('has the vapour pressure of water at %s °C', (temperatureC, kPa) => {
    expect(Math.abs(vapourPressureKPa(temperatureC) / kPa - 1)).toBeLessThan(0.01);
  });
});
