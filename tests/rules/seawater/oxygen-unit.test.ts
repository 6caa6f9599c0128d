import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { oxygenSolubilityMgL, oxygenSolubilityUmolKg } from '../../../rules/seawater/oxygen.js';
import {
  oxygenMgLFromMlL,
  oxygenMgLFromUmolKg,
  oxygenMlLFromMgL,
  oxygenUmolKgFromMgL,
} from '../../../rules/seawater/oxygen-unit.js';
import { answered, expectWithin } from '../../support/answered.js';

const SEED = { seed: 319988, numRuns: 2000 };
const span = (min: number, max: number) => fc.double({ min, max, noNaN: true });

describe('Oxygen in the units of papers and probes', () => {
  // SCOR working group 142: 31.9988 g/mol, 22.3916 L/mol.
  it('is 1.42905 mg for each mL', () => {
    expectWithin(answered(oxygenMgLFromMlL({ oxygenMlL: 1 })), 1.42905, 0.000005, '1 mL');
    expect(answered(oxygenMgLFromMlL({ oxygenMlL: 0 }))).toBe(0);
  });

  it('is the same in µmol/kg and mg/L at saturation', () => {
    fc.assert(
      fc.property(span(0, 50), span(-2, 45), (salinity, temperatureC) => {
        const water = { salinity, temperatureC };
        const oxygenUmolKg = answered(oxygenSolubilityUmolKg(water));
        const oxygenMgL = answered(oxygenSolubilityMgL(water));
        expectWithin(answered(oxygenMgLFromUmolKg({ oxygenUmolKg, ...water })), oxygenMgL, 1e-12, 'mg/L');
      }),
      SEED,
    );
  });

  it('comes back from mL/L and from µmol/kg', () => {
    fc.assert(
      fc.property(span(0, 50), span(0, 50), span(-2, 45), (oxygenMgL, salinity, temperatureC) => {
        const oxygenMlL = answered(oxygenMlLFromMgL({ oxygenMgL }));
        expectWithin(answered(oxygenMgLFromMlL({ oxygenMlL })), oxygenMgL, 1e-12, 'mL/L');
        const water = { salinity, temperatureC };
        const oxygenUmolKg = answered(oxygenUmolKgFromMgL({ oxygenMgL, ...water }));
        expectWithin(answered(oxygenMgLFromUmolKg({ oxygenUmolKg, ...water })), oxygenMgL, 1e-12, 'µmol/kg');
      }),
      SEED,
    );
  });
});
