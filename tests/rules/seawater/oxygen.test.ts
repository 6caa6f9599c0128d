import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { airPressureKpaFromAltitude } from '../../../rules/seawater/air-pressure.js';
import {
  oxygenMgLFromSaturation,
  oxygenSaturationPct,
  oxygenSolubilityMgL,
  oxygenSolubilityUmolKg,
} from '../../../rules/seawater/oxygen.js';
import { answered, expectWithin, refused } from '../../support/answered.js';

const SEED = { seed: 1992, numRuns: 3000 };
const span = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const anyWater = fc.record({
  salinity: span(0, 50),
  temperatureC: span(-2, 45),
  pressureKpa: span(50.6625, 111.4575),
});

describe('Oxygen at saturation', () => {
  it('falls as the water warms, as it gets saltier, and as the air gets thinner', () => {
    fc.assert(
      fc.property(span(0, 49), span(-2, 44), span(52, 111), (salinity, temperatureC, pressureKpa) => {
        for (const solubility of [oxygenSolubilityMgL, oxygenSolubilityUmolKg]) {
          const here = answered(solubility({ salinity, temperatureC, pressureKpa }));
          const warmer = solubility({ salinity, temperatureC: temperatureC + 0.5, pressureKpa });
          const salter = solubility({ salinity: salinity + 0.5, temperatureC, pressureKpa });
          const thinner = solubility({ salinity, temperatureC, pressureKpa: pressureKpa - 1 });
          expect(answered(warmer)).toBeLessThan(here);
          expect(answered(salter)).toBeLessThan(here);
          expect(answered(thinner)).toBeLessThan(here);
        }
      }),
      SEED,
    );
  });

  it('is for one standard atmosphere, 101.325 kPa, when nobody says what the air pressure is', () => {
    const water = { salinity: 30, temperatureC: 22 };
    expect(oxygenSolubilityMgL(water)).toEqual(oxygenSolubilityMgL({ ...water, pressureKpa: 101.325 }));
    expect(oxygenSolubilityMgL({ ...water, pressureKpa: undefined })).toEqual(oxygenSolubilityMgL(water));
  });

  it('does not take hPa for kPa', () => {
    const refusal = refused(oxygenSolubilityMgL({ salinity: 30, temperatureC: 22, pressureKpa: 1013 }));
    expect(refusal).toMatchObject({ code: 'out-of-range', what: 'pressureKpa', value: 1013 });
  });

  // Computed from the standard atmosphere: at 500 m 954.6 hPa, 6 % under 1013.25.
  it('is 6 % lower on site at 500 m than the pressure reduced to sea level would make it', () => {
    const pressureKpa = answered(airPressureKpaFromAltitude({ altitudeM: 500 }));
    const water = { salinity: 30, temperatureC: 15 };
    const onSite = answered(oxygenSolubilityMgL({ ...water, pressureKpa }));
    expectWithin(answered(oxygenSolubilityMgL(water)) / onSite - 1, 0.062, 0.001, '500 m');
  });
});

describe('Oxygen saturation', () => {
  it('in % comes back from the mg/L that it was turned into', () => {
    fc.assert(
      fc.property(span(0, 299.99), anyWater, (saturationPct, water) => {
        const oxygenMgL = answered(oxygenMgLFromSaturation({ saturationPct, ...water }));
        fc.pre(oxygenMgL <= 50);
        expectWithin(answered(oxygenSaturationPct({ oxygenMgL, ...water })), saturationPct, 1e-9, 'back');
      }),
      SEED,
    );
  });

  it('is 0 % for no oxygen at all: that is a reading, and the worst one', () => {
    expect(answered(oxygenSaturationPct({ oxygenMgL: 0, salinity: 30, temperatureC: 20 }))).toBe(0);
    expect(answered(oxygenMgLFromSaturation({ saturationPct: 0, salinity: 30, temperatureC: 20 }))).toBe(0);
  });

  it('is 100 % for the oxygen at saturation', () => {
    fc.assert(
      fc.property(anyWater, (water) => {
        const oxygenMgL = answered(oxygenSolubilityMgL(water));
        expectWithin(answered(oxygenSaturationPct({ oxygenMgL, ...water })), 100, 1e-9, 'full');
      }),
      SEED,
    );
  });

  it('has no answer for a sensor that shows less than nothing, or more than three times saturation', () => {
    const water = { salinity: 30, temperatureC: 20 };
    expect(refused(oxygenSaturationPct({ oxygenMgL: -0.1, ...water }))).toMatchObject({ what: 'oxygenMgL' });
    expect(refused(oxygenSaturationPct({ oxygenMgL: 24, ...water }))).toMatchObject({ what: 'saturationPct' });
  });
});

describe('Air pressure from height', () => {
  it('follows the weather: the pressure reduced to sea level is brought up to the site', () => {
    const standard = answered(airPressureKpaFromAltitude({ altitudeM: 300 }));
    const low = answered(airPressureKpaFromAltitude({ altitudeM: 300, seaLevelPressureKpa: 98 }));
    expectWithin(low / standard, 98 / 101.325, 1e-12, 'low');
  });

  it('is the pressure at sea level itself at sea level', () => {
    expect(answered(airPressureKpaFromAltitude({ altitudeM: 0, seaLevelPressureKpa: 99.5 }))).toBe(99.5);
  });

  it('has no answer where the oxygen equations would not take it', () => {
    const refusal = refused(airPressureKpaFromAltitude({ altitudeM: 5000, seaLevelPressureKpa: 90 }));
    expect(refusal).toMatchObject({ code: 'out-of-range', what: 'pressureKpa' });
  });
});
