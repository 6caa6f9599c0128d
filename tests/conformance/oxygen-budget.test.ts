import { describe, expect, it } from 'vitest';
import type { Reach } from '../../rules/seawater/hours-left.js';
import { oxygenSolubilityMgL } from '../../rules/seawater/oxygen.js';
import {
  exchangePerH,
  hoursUntilOxygen,
  hoursUntilOxygenSlowing,
  oxygenAfterMgL,
  steadyOxygenMgL,
  uptakeMgLPerH,
} from '../../rules/seawater/oxygen-budget.js';
import { uptakeFromSlope } from '../../rules/seawater/oxygen-uptake.js';
import { reaerationAtTemperature, reaerationFromTwoReadings } from '../../rules/seawater/reaeration.js';
import { RESPIRATION_RELATIONS, respirationMgPerH } from '../../rules/seawater/respiration.js';
import { exactly } from '../../rules/statistics/interval.js';
import { answered, expectWithin } from '../support/answered.js';
import { type CheckRow, checkRows } from '../support/check-values.js';

const balanceOf = ({ number }: CheckRow) => ({
  oxygenMgL: number('oxygenMgL'),
  solubilityMgL: number('solubilityMgL'),
  uptakeMgLPerH: number('uptakeMgLPerH'),
  reaerationPerH: number('reaerationPerH'),
  exchangePerH: number('exchangePerH'),
  inflowOxygenMgL: number('inflowOxygenMgL'),
});

const hoursOf = (reach: Reach): number => (reach.kind === 'reaches' ? reach.hours : Number.NaN);

const courses = (what: string) =>
  checkRows('bed-and-oxygen/oxygen-courses.csv').filter((row) => row.text('what') === what);

// Source of the courses: the closed forms, checked against scipy 1.10.1 solve_ivp on the balance to 1e-6 mg/L.
describe('The oxygen of a tank', () => {
  it('follows the integrated balance hour by hour, with and without air and flow', () => {
    for (const row of courses('after')) {
      const after = answered(oxygenAfterMgL({ ...balanceOf(row), hours: row.number('argument') }));
      expectWithin(after, row.number('expected'), row.number('tolerance'), row.line);
    }
  });

  it('settles where air, flow and uptake balance', () => {
    for (const row of courses('settles-at'))
      expectWithin(
        answered(steadyOxygenMgL(balanceOf(row))),
        row.number('expected'),
        row.number('tolerance'),
        row.line,
      );
  });

  it('reaches 4 mg/L after the hours computed, or never where it settles above', () => {
    for (const row of courses('hours-until')) {
      const reach = answered(hoursUntilOxygen({ ...balanceOf(row), targetMgL: row.number('argument') }));
      if (row.text('expected') === 'never') expect(reach, row.line).toEqual({ kind: 'never' });
      else expectWithin(hoursOf(reach), row.number('expected'), row.number('tolerance'), row.line);
    }
  });

  it('lasts longer when the animals slow down below 2.5 mg/L', () => {
    const tank = { oxygenMgL: 7.025215, uptakeMgLPerH: 0.30927593, criticalMgL: 2.5, targetMgL: 1 };
    // Computed from (C0 - Ccrit)/r + (Ccrit/r) ln(Ccrit/C).
    expectWithin(hoursOf(answered(hoursUntilOxygenSlowing(tank))), 22.038385, 0.0001, 'slowing');
  });

  it('lasts 9.78 h for 100 oysters and a bed, reckoned from the animals up', () => {
    const solubilityMgL = answered(oxygenSolubilityMgL({ salinity: 35, temperatureC: 20 }));
    const relation = 'pacific-oyster-bougrier-1995';
    const animal = answered(respirationMgPerH({ relation, temperatureC: 20, dryTissueG: 1.5 })).mid;
    const bedMgPerH = (0.8 * 20 * 31.9988) / 24;
    const uptake = answered(uptakeMgLPerH({ uptakeMgPerH: 100 * animal + bedMgPerH, volumeL: 500 }));
    const sealed = { solubilityMgL, reaerationPerH: 0, exchangePerH: 0, inflowOxygenMgL: 0, uptakeMgLPerH: uptake };
    const reach = answered(hoursUntilOxygen({ ...sealed, oxygenMgL: 0.95 * solubilityMgL, targetMgL: 4 }));
    expectWithin(uptake, 0.30927593, 1e-6, 'uptake of the worked tank');
    expectWithin(hoursOf(reach), 9.781606, 0.0001, 'worked tank');
  });
});

describe('The uptake and the exchange with the air', () => {
  it('matches the published oyster relations over their ranges', () => {
    for (const row of checkRows('bed-and-oxygen/respiration.csv')) {
      const relation = RESPIRATION_RELATIONS.find((name) => name === row.text('relation'));
      if (relation === undefined) throw new Error(row.line);
      const water = { temperatureC: row.number('temperatureC'), dryTissueG: row.number('dryTissueG') };
      expectWithin(answered(respirationMgPerH({ relation, ...water })).mid, row.number('mgPerH'), 0.000001, row.line);
    }
  });

  it('gives 0.370 mg/L/h for a fall of 0.30 with a still surface (computed)', () => {
    const uptake = uptakeFromSlope({
      slopeMgLPerH: exactly(-0.3),
      oxygenMgL: 6,
      solubilityMgL: 7.4,
      reaerationPerH: exactly(0.05),
      exchangePerH: 0,
      inflowOxygenMgL: 0,
    });
    expectWithin(answered(uptake).mid, 0.37, 0.000001, 'uptake from a decline');
  });

  // Computed with 1.024 per degree, common in river and wastewater practice.
  it.each([
    [2, 15, 1.776357],
    [2, 25, 2.2518],
    [0.05, 28, 0.060446],
  ])('carries a reaeration of %d per hour from 20 °C to %d °C', (reaerationPerH20, temperatureC, perH) => {
    expectWithin(answered(reaerationAtTemperature({ reaerationPerH20, temperatureC })), perH, 0.000001, `${perH}`);
  });

  it('finds 1.7746 per hour in a rise from 4.0 to 6.0 mg/L in half an hour (computed)', () => {
    const rise = { solubilityMgL: 7.4, firstMgL: 4, secondMgL: 6, hours: 0.5 };
    expectWithin(answered(reaerationFromTwoReadings(rise)), 1.774606, 0.000001, 'rise');
  });

  it('makes 0.24 turnovers an hour of 120 L/h through 500 L', () => {
    expect(answered(exchangePerH({ flowLPerH: 120, volumeL: 500 }))).toBe(0.24);
  });
});
