import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { unionisedAmmoniaFraction } from '../../../rules/seawater/ammonia.js';
import { answered, expectWithin } from '../../support/answered.js';

const SEED = { seed: 2008, numRuns: 3000 };
const span = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const scale = fc.constantFrom('nbs', 'total');

describe('The poisonous share of ammonia', () => {
  it('rises with pH and with warmth, on either pH scale', () => {
    fc.assert(
      fc.property(span(4, 10.9), span(0, 40), span(0, 39.9), scale, (ph, salinity, temperatureC, phScale) => {
        const here = answered(unionisedAmmoniaFraction({ ph, salinity, temperatureC, phScale }));
        const higher = unionisedAmmoniaFraction({ ph: ph + 0.1, salinity, temperatureC, phScale });
        const warmer = unionisedAmmoniaFraction({ ph, salinity, temperatureC: temperatureC + 0.1, phScale });
        expect(answered(higher)).toBeGreaterThan(here);
        expect(answered(warmer)).toBeGreaterThan(here);
      }),
      SEED,
    );
  });

  it('grows by a quarter for 0.1 pH at the pH of seawater', () => {
    const share = (ph: number) => answered(unionisedAmmoniaFraction({ ph, salinity: 32, temperatureC: 20 }));
    expectWithin(share(8.1) / share(8), 1.25, 0.01, '0.1 pH');
  });

  it('takes the ordinary (NBS) buffers when nobody says which', () => {
    const water = { ph: 8.1, salinity: 33, temperatureC: 20 };
    expect(unionisedAmmoniaFraction(water)).toEqual(unionisedAmmoniaFraction({ ...water, phScale: 'nbs' }));
  });

  // Computed from Bell and others 2008 and Clegg and Whitfield 1995.
  it('is 20 to 28 % more when the pH is taken to be on the total scale, at pH 8.1, salinity 35, 15 to 25 °C', () => {
    for (let temperatureC = 15; temperatureC <= 25; temperatureC += 1) {
      const water = { ph: 8.1, salinity: 35, temperatureC };
      const taken = answered(unionisedAmmoniaFraction({ ...water, phScale: 'total' }));
      const more = taken / answered(unionisedAmmoniaFraction(water)) - 1;
      expect(Math.round(100 * more)).toBeGreaterThanOrEqual(20);
      expect(Math.round(100 * more)).toBeLessThanOrEqual(28);
    }
  });

  // Two papers meet here: Bell and others 2008 above, Emerson and others 1975 below.
  it('steps by no more than 6 % where the equation for fresh water ends, at salinity 5 and 20 °C', () => {
    const share = (salinity: number) => answered(unionisedAmmoniaFraction({ ph: 8, salinity, temperatureC: 20 }));
    expect(Math.abs(share(5) / share(4.999) - 1)).toBeLessThan(0.06);
  });
});
