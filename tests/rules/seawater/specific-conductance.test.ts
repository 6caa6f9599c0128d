import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  conductivityFromPracticalSalinity,
  practicalSalinityFromConductivity,
} from '../../../rules/seawater/salinity.js';
import {
  compensationPctPerCFromReadings,
  salinityFromSpecificConductance,
  specificConductanceFromSalinity,
} from '../../../rules/seawater/specific-conductance.js';
import { answered, expectWithin, refused } from '../../support/answered.js';

const SEED = { seed: 25, numRuns: 2000 };
const span = (min: number, max: number) => fc.double({ min, max, noNaN: true });

describe('Salinity from specific conductance at 25 °C', () => {
  it('comes back from the specific conductance that it was turned into, whatever the slope of the probe', () => {
    fc.assert(
      fc.property(span(0.05, 49), span(-2, 45), span(0, 2.5), (salinity, temperatureC, compensationPctPerC) => {
        const probe = { temperatureC, compensationPctPerC };
        const specificConductanceMsCm = answered(specificConductanceFromSalinity({ salinity, ...probe }));
        const back = answered(salinityFromSpecificConductance({ specificConductanceMsCm, ...probe }));
        expectWithin(back, salinity, 1e-9, 'back');
      }),
      SEED,
    );
  });

  it('takes a slope of 0 as a probe that does not compensate', () => {
    const plain = practicalSalinityFromConductivity({ conductivityMsCm: 46, temperatureC: 18 });
    const probe = { specificConductanceMsCm: 46, temperatureC: 18, compensationPctPerC: 0 };
    expect(salinityFromSpecificConductance(probe)).toEqual(plain);
  });

  it('is the same for every slope at 25 °C', () => {
    const at25 = { specificConductanceMsCm: 53, temperatureC: 25 };
    const one = salinityFromSpecificConductance({ ...at25, compensationPctPerC: 1.91 });
    expect(salinityFromSpecificConductance({ ...at25, compensationPctPerC: 2 })).toEqual(one);
  });

  it('says that a dry probe is dry', () => {
    const dry = { specificConductanceMsCm: 0, temperatureC: 18, compensationPctPerC: 1.91 };
    expect(refused(salinityFromSpecificConductance(dry))).toMatchObject({ because: 'conductivity-near-zero' });
  });
});

describe('The slope of a probe that shows both values', () => {
  it('is found at 20 °C and below, and at 30 °C and above', () => {
    fc.assert(
      fc.property(fc.oneof(span(-2, 20), span(30, 45)), span(0.1, 2.9), (temperatureC, compensationPctPerC) => {
        const probe = { salinity: 33, temperatureC };
        const conductivityMsCm = answered(conductivityFromPracticalSalinity(probe));
        const specificConductanceMsCm = answered(specificConductanceFromSalinity({ ...probe, compensationPctPerC }));
        fc.pre(specificConductanceMsCm <= 150);
        const found = compensationPctPerCFromReadings({ conductivityMsCm, specificConductanceMsCm, temperatureC });
        expectWithin(answered(found), compensationPctPerC, 1e-9, 'slope');
      }),
      SEED,
    );
  });

  it('is not read off near 25 °C, where rounding decides it', () => {
    const readings = { conductivityMsCm: 52, specificConductanceMsCm: 52.9 };
    for (const temperatureC of [20.1, 25, 29.9]) {
      expect(refused(compensationPctPerCFromReadings({ ...readings, temperatureC }))).toEqual({
        code: 'impossible',
        because: 'too-near-25-c',
        with: { temperatureC },
      });
    }
  });

  it('is refused when the two readings cannot be of one water', () => {
    const readings = { conductivityMsCm: 20, specificConductanceMsCm: 53, temperatureC: 15 };
    expect(refused(compensationPctPerCFromReadings(readings))).toMatchObject({ what: 'compensationPctPerC' });
  });
});
