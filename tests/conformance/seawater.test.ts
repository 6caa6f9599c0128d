import { describe, expect, it } from 'vitest';
import { unionisedAmmoniaFraction } from '../../rules/seawater/ammonia.js';
import { seawaterDensityKgM3 } from '../../rules/seawater/density.js';
import { conductivityFromPracticalSalinity, practicalSalinityFromConductivity } from '../../rules/seawater/salinity.js';
import {
  compensationPctPerCFromReadings,
  salinityFromSpecificConductance,
  specificConductanceFromSalinity,
} from '../../rules/seawater/specific-conductance.js';
import { answered, expectWithin } from '../support/answered.js';
import { checkRows } from '../support/check-values.js';

/** Published values on the old scale enter the equations as they are: undo what the rules will do. */
const its90 = (ipts68C: number): number => ipts68C / 1.00024;

/** C(35, 15, 0), Culkin and Smith 1980. */
const STANDARD_MS_CM = 42.914;

describe('Salinity agrees with UNESCO Technical Papers in Marine Science 44', () => {
  for (const row of checkRows('seawater/salinity-unesco.csv')) {
    const temperatureC = its90(row.number('ipts68C'));
    const pressureDbar = row.number('pressureDbar');
    const salinity = row.number('salinity');
    const ratio = row.number('ratio');
    const where = `${row.text('ipts68C')} °C and ${row.text('pressureDbar')} dbar (${row.text('source')})`;

    if (row.text('checks') === 'salinity') {
      it(`gives salinity ${salinity} for conductivity ratio ${ratio} at ${where}`, () => {
        const conductivityMsCm = ratio * STANDARD_MS_CM;
        const got = answered(practicalSalinityFromConductivity({ conductivityMsCm, temperatureC, pressureDbar }));
        expectWithin(got, salinity, row.number('tolerance'), row.line);
      });
    } else {
      it(`gives conductivity ratio ${ratio} for salinity ${salinity} at ${where}`, () => {
        const got = answered(conductivityFromPracticalSalinity({ salinity, temperatureC, pressureDbar }));
        expectWithin(got / STANDARD_MS_CM, ratio, row.number('tolerance'), row.line);
      });
    }
  }

  // UNESCO 44, p. 9. At salinity 35 and no pressure the ratio R is rt; under pressure, R over R without it is Rp.
  it.each([
    [20, 1.1164927, 0.0000002],
    [5, 0.77956585, 0.00000002],
  ])('gives the ratio rt of %d °C as %d', (ipts68C, rt, tolerance) => {
    const got = answered(conductivityFromPracticalSalinity({ salinity: 35, temperatureC: its90(ipts68C) }));
    expectWithin(got / STANDARD_MS_CM, rt, tolerance, `rt ${ipts68C}`);
  });
  it.each([
    [1.2, 20, 2000, 1.0169429],
    [0.65, 5, 1500, 1.0204864],
  ])('gives the pressure ratio Rp of R %d at %d °C and %d dbar as %d', (ratio, ipts68C, pressureDbar, rp) => {
    const temperatureC = its90(ipts68C);
    const conductivityMsCm = ratio * STANDARD_MS_CM;
    const salinity = answered(practicalSalinityFromConductivity({ conductivityMsCm, temperatureC, pressureDbar }));
    const atSurface = answered(conductivityFromPracticalSalinity({ salinity, temperatureC }));
    expectWithin(conductivityMsCm / atSurface, rp, 0.0000002, `Rp ${ratio}`);
  });
});

describe('Salinity agrees with TEOS-10', () => {
  // The conductivities of the table are printed to 1e-10 mS/cm.
  it('within 1e-9 both ways, at 362 points of salinity 0.05 to 42 and 0 to 35 °C', () => {
    for (const row of checkRows('seawater/salinity-teos10.csv')) {
      const at = { temperatureC: row.number('temperatureC'), pressureDbar: row.number('pressureDbar') };
      const salinity = row.number('salinity');
      const conductivityMsCm = row.number('conductivityMsCm');
      expectWithin(answered(practicalSalinityFromConductivity({ conductivityMsCm, ...at })), salinity, 1e-9, row.line);
      expectWithin(answered(conductivityFromPracticalSalinity({ salinity, ...at })), conductivityMsCm, 1e-9, row.line);
    }
  });

  it('when a probe sends specific conductance at 25 °C, with either usual slope', () => {
    for (const row of checkRows('seawater/specific-conductance.csv')) {
      const probe = {
        temperatureC: row.number('temperatureC'),
        compensationPctPerC: row.number('compensationPctPerC'),
      };
      const specificConductanceMsCm = row.number('specificConductanceMsCm');
      const salinity = row.number('salinity');
      const got = answered(salinityFromSpecificConductance({ specificConductanceMsCm, ...probe }));
      expectWithin(got, salinity, 1e-5, row.line);
      const back = answered(specificConductanceFromSalinity({ salinity, ...probe }));
      expectWithin(back, specificConductanceMsCm, 1e-6, row.line);
    }
  });

  // gsw.C_from_SP(35, 20, 0) and the row for 20 °C of specific-conductance.csv.
  it('finds the slope of a probe from its two readings', () => {
    const got = answered(
      compensationPctPerCFromReadings({
        conductivityMsCm: 47.9180440285,
        specificConductanceMsCm: 52.977384,
        temperatureC: 20,
      }),
    );
    expectWithin(got, 1.91, 1e-6, 'slope at 20 °C');
  });

  // Computed with GSW-Python 3.6.16: what a wrong slope setting costs, and so why there is no default.
  it.each([
    [1.91, 2, 15, 34.56],
    [2, 1.91, 15, 35.44],
    [1.91, 2, 20, 34.8],
    [2, 1.91, 20, 35.2],
  ])(
    'reads a probe with a slope of %d as if it were %d at %d °C: salinity 35 becomes %d',
    (made, undone, temperatureC, wrong) => {
      const specificConductanceMsCm = answered(
        specificConductanceFromSalinity({ salinity: 35, temperatureC, compensationPctPerC: made }),
      );
      const got = answered(
        salinityFromSpecificConductance({ specificConductanceMsCm, temperatureC, compensationPctPerC: undone }),
      );
      expectWithin(got, wrong, 0.005, 'slope mistaken');
    },
  );
});

describe('Density', () => {
  for (const row of checkRows('seawater/density-unesco.csv')) {
    const salinity = row.number('salinity');
    const ipts68C = row.number('ipts68C');
    it(`is ${row.text('densityKgM3')} kg/m³ for salinity ${salinity} at ${ipts68C} °C (${row.text('source')})`, () => {
      const got = answered(seawaterDensityKgM3({ salinity, temperatureC: its90(ipts68C) }));
      expectWithin(got, row.number('densityKgM3'), row.number('tolerance'), row.line);
    });
  }

  // EOS-80 and TEOS-10 are different measurements; 0.0055 kg/m³ is the most they differ by in this range.
  it('agrees with TEOS-10 within 0.006 kg/m³, at 121 points of salinity 0 to 40 and 0 to 35 °C', () => {
    for (const row of checkRows('seawater/density-teos10.csv')) {
      const water = { salinity: row.number('salinity'), temperatureC: row.number('temperatureC') };
      expectWithin(answered(seawaterDensityKgM3(water)), row.number('densityKgM3'), 0.006, row.line);
    }
  });
});

describe('Un-ionised ammonia', () => {
  it.each(['Bower and Bidwell 1978', 'Trussell 1972'])('agrees with the table of %s', (source) => {
    const rows = checkRows('seawater/ammonia-tables.csv').filter((row) => row.text('source') === source);
    expect(rows.length).toBeGreaterThan(40);
    for (const row of rows) {
      const water = {
        ph: row.number('ph'),
        salinity: row.number('salinity'),
        temperatureC: row.number('temperatureC'),
      };
      const got = 100 * answered(unionisedAmmoniaFraction(water));
      expectWithin(got, row.number('unionisedPct'), row.number('tolerance'), row.line);
    }
  });

  const pka = checkRows('seawater/ammonia-pka.csv');
  it.each([...new Set(pka.map((row) => row.text('source')))])('has the pKa of %s', (source) => {
    for (const row of pka.filter((one) => one.text('source') === source)) {
      const water = { ph: 8, salinity: row.number('salinity'), temperatureC: row.number('temperatureC') };
      const phScale = row.text('phScale') === 'total' ? 'total' : 'nbs';
      const fraction = answered(unionisedAmmoniaFraction({ ...water, phScale }));
      expectWithin(8 + Math.log10(1 / fraction - 1), row.number('pka'), 0.000001, row.line);
    }
  });
});
