import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Answer } from '../../../rules/answer.js';
import { afterRain, diluteToVolume, evaporation, mixTwoWaters } from '../../../rules/husbandry/mixing.js';
import {
  brineToAddKg,
  drySaltToAddKg,
  salinityOfMix,
  waterEvaporatedKg,
  waterToAddKg,
  waterToExchangeKg,
} from '../../../rules/husbandry/salt-balance.js';
import { seawaterDensityKgM3 } from '../../../rules/seawater/density.js';

const SEED = 20_260_302;

const value = <T>(answer: Answer<T>): T => {
  if (!answer.ok) throw new Error(JSON.stringify(answer.fault));
  return answer.value;
};
const why = (answer: Answer<unknown>): string | undefined =>
  answer.ok || answer.fault.code !== 'impossible' ? undefined : answer.fault.because;

const kgOf = (litres: number, salinity: number): number =>
  (litres * value(seawaterDensityKgM3({ salinity, temperatureC: 20 }))) / 1000;

const salinity = fc.double({ min: 0, max: 42, noNaN: true });
const kg = fc.double({ min: 1, max: 100_000, noNaN: true });

describe('Correcting a tank of 1,000 L at 20 °C (salt balance; masses by EOS-80)', () => {
  it('36.5 down to 35 with fresh water: add 43.967 kg, or exchange 42.161 kg', () => {
    const tank = { tankKg: kgOf(1000, 36.5), salinity: 36.5, targetSalinity: 35, addedSalinity: 0 };
    expect(value(waterToAddKg(tank))).toBeCloseTo(43.9674, 3);
    expect(value(waterToExchangeKg(tank))).toBeCloseTo(42.1605, 3);
  });

  it('30 up to 33: 65.692 kg of brine of 80 g/kg, or 3.285 kg of dry salt of 97 %', () => {
    const tank = { tankKg: kgOf(1000, 30), salinity: 30, targetSalinity: 33 };
    expect(value(brineToAddKg({ ...tank, brineGKg: 80 }))).toBeCloseTo(65.692, 3);
    expect(value(drySaltToAddKg({ ...tank, saltFraction: 0.97 }))).toBeCloseTo(3.2848, 3);
  });

  it('500 kg of 36 with 120 kg of 28 are 34.451613', () => {
    expect(value(salinityOfMix({ massAKg: 500, salinityA: 36, massBKg: 120, salinityB: 28 }))).toBeCloseTo(
      34.451613,
      6,
    );
  });

  it('filled at 33 and now 34.2: 35.903 kg evaporated', () => {
    const tank = { filledKg: kgOf(1000, 33), filledSalinity: 33, salinity: 34.2 };
    expect(value(waterEvaporatedKg(tank))).toBeCloseTo(35.903, 3);
  });
});

describe('Salt is neither lost nor made', () => {
  it('the water to add gives the target when it is mixed in', () => {
    fc.assert(
      fc.property(kg, salinity, salinity, salinity, (tankKg, now, target, added) => {
        const answer = waterToAddKg({ tankKg, salinity: now, targetSalinity: target, addedSalinity: added });
        if (!answer.ok || answer.value > 10_000_000 || answer.value < 0.001) return;
        const mixed = salinityOfMix({ massAKg: tankKg, salinityA: now, massBKg: answer.value, salinityB: added });
        expect(value(mixed)).toBeCloseTo(target, 6);
      }),
      { seed: SEED },
    );
  });

  it('the water to exchange gives the target when it replaces as much', () => {
    fc.assert(
      fc.property(kg, salinity, salinity, salinity, (tankKg, now, target, added) => {
        const answer = waterToExchangeKg({ tankKg, salinity: now, targetSalinity: target, addedSalinity: added });
        if (!answer.ok) return;
        expect(answer.value).toBeLessThanOrEqual(tankKg);
        const salt = (tankKg - answer.value) * now + answer.value * added;
        expect(salt / tankKg).toBeCloseTo(target, 6);
      }),
      { seed: SEED },
    );
  });

  it('the two parts of a diluted volume are its volume, and hold its salt', () => {
    fc.assert(
      fc.property(kg, salinity, salinity, salinity, (finalVolumeL, source, target, diluent) => {
        const answer = diluteToVolume({
          finalVolumeL,
          sourceSalinity: source,
          targetSalinity: target,
          diluentSalinity: diluent,
        });
        if (!answer.ok) return;
        const { sourceL, diluentL } = answer.value;
        expect((sourceL + diluentL) / finalVolumeL).toBeCloseTo(1, 9);
        expect((sourceL * source + diluentL * diluent) / finalVolumeL).toBeCloseTo(target, 9);
      }),
      { seed: SEED },
    );
  });

  it('two waters mixed lie between them', () => {
    fc.assert(
      fc.property(kg, salinity, kg, salinity, (volumeAL, salinityA, volumeBL, salinityB) => {
        const waters = { volumeAL, salinityA, temperatureAC: 12, volumeBL, salinityB, temperatureBC: 26 };
        const mix = value(mixTwoWaters(waters));
        expect(mix.salinity).toBeGreaterThanOrEqual(Math.min(salinityA, salinityB) - 1e-9);
        expect(mix.salinity).toBeLessThanOrEqual(Math.max(salinityA, salinityB) + 1e-9);
      }),
      { seed: SEED },
    );
  });

  it('putting back what evaporated gives the salinity there was', () => {
    fc.assert(
      fc.property(kg, fc.double({ min: 0.5, max: 1, noNaN: true }), salinity, (startVolumeL, left, startSalinity) => {
        const after = value(evaporation({ startSalinity, startVolumeL, endVolumeL: startVolumeL * left }));
        const back = (after.salinity * (startVolumeL - after.freshWaterL)) / startVolumeL;
        expect(back).toBeCloseTo(startSalinity, 6);
      }),
      { seed: SEED },
    );
  });
});

describe('What mixing cannot reach is refused, never guessed', () => {
  const tank = { tankKg: 1000, salinity: 30, targetSalinity: 33 };

  it('fresh water does not make a tank saltier, and salt not fresher', () => {
    expect(why(waterToAddKg({ ...tank, addedSalinity: 0 }))).toBe('target-not-between');
    expect(why(waterToExchangeKg({ ...tank, addedSalinity: 32 }))).toBe('target-not-between');
    expect(why(waterToAddKg({ ...tank, addedSalinity: 33 }))).toBe('target-not-between');
    expect(why(drySaltToAddKg({ ...tank, targetSalinity: 28, saltFraction: 1 }))).toBe('salt-cannot-lower');
    expect(why(brineToAddKg({ ...tank, brineGKg: 33 }))).toBe('brine-too-weak');
  });

  it('exchanging the whole tank reaches the salinity of the new water', () => {
    expect(value(waterToExchangeKg({ ...tank, addedSalinity: 33 }))).toBe(1000);
  });

  it('a tank that is at its target needs nothing, whatever the water', () => {
    const there = { ...tank, targetSalinity: 30 };
    expect(value(waterToAddKg({ ...there, addedSalinity: 30 }))).toBe(0);
    expect(value(waterToExchangeKg({ ...there, addedSalinity: 0 }))).toBe(0);
    expect(value(brineToAddKg({ ...there, brineGKg: 80 }))).toBe(0);
  });

  it('two equal waters make no third salinity', () => {
    const water = { finalVolumeL: 100, sourceSalinity: 30, diluentSalinity: 30 };
    expect(why(diluteToVolume({ ...water, targetSalinity: 30 }))).toBe('target-not-between');
    expect(why(diluteToVolume({ ...water, targetSalinity: 28 }))).toBe('target-not-between');
  });

  it('a tank does not grow or freshen by evaporation', () => {
    expect(why(evaporation({ startSalinity: 30, startVolumeL: 100, endVolumeL: 101 }))).toBe('volume-grew');
    expect(why(waterEvaporatedKg({ filledKg: 100, filledSalinity: 33, salinity: 32 }))).toBe('fresher-than-filled');
  });

  it('no rain changes nothing', () => {
    expect(value(afterRain({ startSalinity: 30, waterDepthMm: 250, rainMm: 0 }))).toBe(30);
  });
});
