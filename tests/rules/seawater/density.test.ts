import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { seawaterDensityKgM3 } from '../../../rules/seawater/density.js';
import { answered, expectWithin } from '../../support/answered.js';

const SEED = { seed: 1981, numRuns: 2000 };
const span = (min: number, max: number) => fc.double({ min, max, noNaN: true });

describe('Density of seawater', () => {
  it('rises with salinity at every temperature', () => {
    fc.assert(
      fc.property(span(0, 49.9), span(-2, 45), (salinity, temperatureC) => {
        const salter = answered(seawaterDensityKgM3({ salinity: salinity + 0.1, temperatureC }));
        expect(salter).toBeGreaterThan(answered(seawaterDensityKgM3({ salinity, temperatureC })));
      }),
      SEED,
    );
  });

  // Below about salinity 25 water is densest above its freezing point (common knowledge, no source).
  it('falls with warming from salinity 30 on, at every temperature', () => {
    fc.assert(
      fc.property(span(30, 50), span(-2, 44.9), (salinity, temperatureC) => {
        const warmer = answered(seawaterDensityKgM3({ salinity, temperatureC: temperatureC + 0.1 }));
        expect(warmer).toBeLessThan(answered(seawaterDensityKgM3({ salinity, temperatureC })));
      }),
      SEED,
    );
  });

  // The maximum of fresh water, common knowledge: near 4 °C.
  it('of fresh water is greatest near 4 °C', () => {
    const fresh = (temperatureC: number) => answered(seawaterDensityKgM3({ salinity: 0, temperatureC }));
    expect(fresh(4)).toBeGreaterThan(fresh(3));
    expect(fresh(4)).toBeGreaterThan(fresh(5));
  });

  // Computed apart from this program, from EOS-80: 1000 L of salinity 36.5 at 20 °C weigh 1025.906 kg.
  it('says that 1000 litres of salinity 36.5 at 20 °C weigh 1025.906 kg', () => {
    expectWithin(answered(seawaterDensityKgM3({ salinity: 36.5, temperatureC: 20 })), 1025.906, 0.0005, '36.5');
  });
});
