import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  conductivityFromPracticalSalinity,
  practicalSalinityFromConductivity,
} from '../../../rules/seawater/salinity.js';
import { ipts68FromIts90, its90FromIpts68 } from '../../../rules/seawater/temperature-scale.js';
import { answered, expectWithin, refused } from '../../support/answered.js';

const SEED = { seed: 1978, numRuns: 3000 };
const span = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const temperature = span(-2, 45);
const pressure = fc.oneof(fc.constant(0), span(0, 2), span(0, 10000));

describe('Salinity from conductivity', () => {
  it('comes back from the conductivity that it was turned into, at every depth', () => {
    fc.assert(
      fc.property(
        fc.oneof(span(0.01, 3), span(0.01, 50)),
        temperature,
        pressure,
        (salinity, temperatureC, pressureDbar) => {
          const at = { temperatureC, pressureDbar };
          const conductivityMsCm = answered(conductivityFromPracticalSalinity({ salinity, ...at }));
          fc.pre(salinity < 49.999999);
          expectWithin(
            answered(practicalSalinityFromConductivity({ conductivityMsCm, ...at })),
            salinity,
            1e-9,
            'back',
          );
        },
      ),
      SEED,
    );
  });

  it('rises with conductivity and falls when the same conductivity is read in warmer water', () => {
    fc.assert(
      fc.property(span(0.02, 60), span(-2, 44), (conductivityMsCm, temperatureC) => {
        const here = practicalSalinityFromConductivity({ conductivityMsCm, temperatureC });
        const more = practicalSalinityFromConductivity({ conductivityMsCm: conductivityMsCm * 1.001, temperatureC });
        const warmer = practicalSalinityFromConductivity({ conductivityMsCm, temperatureC: temperatureC + 0.1 });
        fc.pre(here.ok && more.ok && warmer.ok);
        expect(answered(more)).toBeGreaterThan(answered(here));
        expect(answered(warmer)).toBeLessThan(answered(here));
      }),
      SEED,
    );
  });

  // Hill and others 1986 takes over from PSS-78 at 2.
  it('does not jump where the equation for brackish water takes over at 2', () => {
    for (let temperatureC = -2; temperatureC <= 45; temperatureC += 1) {
      const below = answered(conductivityFromPracticalSalinity({ salinity: 2 - 1e-9, temperatureC }));
      const above = answered(conductivityFromPracticalSalinity({ salinity: 2, temperatureC }));
      expectWithin(above, below, 1e-7, `${temperatureC} °C`);
    }
  });

  // GSW-Python 3.6.16: +0.1 mS/cm is +0.082, +0.1 °C on the thermometer is -0.083, at 35 and 20 °C.
  it('moves by 0.08 for 0.1 mS/cm, and by as much the other way for 0.1 °C on the thermometer', () => {
    const salinity = (conductivityMsCm: number, temperatureC: number) =>
      answered(practicalSalinityFromConductivity({ conductivityMsCm, temperatureC }));
    expectWithin(salinity(48.0180440285, 20), 35.082, 0.0005, '0.1 mS/cm');
    expectWithin(salinity(47.9180440285, 20.1), 34.917, 0.0005, '0.1 °C');
  });

  // GSW-Python 3.6.16: 0.00036 for 1 dbar at 35 and 20 °C.
  it('hardly notices a metre of water above the probe', () => {
    const deep = answered(
      practicalSalinityFromConductivity({ conductivityMsCm: 47.9180440285, temperatureC: 20, pressureDbar: 1 }),
    );
    expectWithin(35 - deep, 0.00036, 0.00001, '1 dbar');
  });

  it('has no salinity 0 for a probe in the air: it says that there is next to no conductivity', () => {
    for (const conductivityMsCm of [0, 0.001, 0.0099]) {
      expect(refused(practicalSalinityFromConductivity({ conductivityMsCm, temperatureC: 18 }))).toEqual({
        code: 'impossible',
        because: 'conductivity-near-zero',
        with: { conductivityMsCm },
      });
    }
    expect(practicalSalinityFromConductivity({ conductivityMsCm: 0.01, temperatureC: 18 }).ok).toBe(true);
  });

  it('takes 0 °C and 0 dbar as readings, not as missing', () => {
    const got = practicalSalinityFromConductivity({ conductivityMsCm: 29, temperatureC: 0, pressureDbar: 0 });
    expect(answered(got)).toBeCloseTo(
      answered(practicalSalinityFromConductivity({ conductivityMsCm: 29, temperatureC: 0 })),
    );
  });

  it('refuses brine saltier than 50, and names the salinity that it would have been', () => {
    const refusal = refused(practicalSalinityFromConductivity({ conductivityMsCm: 90, temperatureC: 20 }));
    expect(refusal).toMatchObject({ code: 'out-of-range', what: 'salinity', low: 0, high: 50 });
  });
});

describe('The two temperature scales', () => {
  // 1.00024 is the factor of TEOS-10 (GSW-C).
  it('differ by 0.0048 °C at 20 °C, and not at all at 0 °C', () => {
    expectWithin(answered(ipts68FromIts90({ its90C: 20 })), 20.0048, 1e-12, '20 °C');
    expect(answered(ipts68FromIts90({ its90C: 0 }))).toBe(0);
  });

  it('come back to the same temperature', () => {
    fc.assert(
      fc.property(span(-1.9, 44.9), (its90C) => {
        const ipts68C = answered(ipts68FromIts90({ its90C }));
        expectWithin(answered(its90FromIpts68({ ipts68C })), its90C, 1e-12, 'back');
      }),
      SEED,
    );
  });
});
