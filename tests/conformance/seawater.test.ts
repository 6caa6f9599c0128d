import { describe, expect, it } from 'vitest';
import { airPressureKpaFromAltitude } from '../../rules/seawater/air-pressure.js';
import { unionisedAmmoniaFraction } from '../../rules/seawater/ammonia.js';
import { seawaterDensityKgM3 } from '../../rules/seawater/density.js';
import {
  oxygenMgLFromSaturation,
  oxygenSaturationPct,
  oxygenSolubilityMgL,
  oxygenSolubilityUmolKg,
} from '../../rules/seawater/oxygen.js';
import { oxygenMeterErrorPct, oxygenMgLFromMeter } from '../../rules/seawater/oxygen-meter.js';
import { MG_PER_ML } from '../../rules/seawater/oxygen-unit.js';
import { conductivityFromPracticalSalinity, practicalSalinityFromConductivity } from '../../rules/seawater/salinity.js';
import {
  compensationPctPerCFromReadings,
  salinityFromSpecificConductance,
  specificConductanceFromSalinity,
} from '../../rules/seawater/specific-conductance.js';
import { vapourPressureKpa } from '../../rules/seawater/vapour-pressure.js';
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

describe('Oxygen at saturation', () => {
  for (const row of checkRows('seawater/oxygen-umol-kg.csv')) {
    const salinity = row.number('salinity');
    const given = row.number('temperatureC');
    const expected = row.number('oxygenUmolKg');
    it(`is ${expected} µmol/kg for salinity ${salinity} at ${given} °C (${row.text('source')})`, () => {
      const temperatureC = row.text('scale') === 'IPTS-68' ? its90(given) : given;
      const got = answered(oxygenSolubilityUmolKg({ salinity, temperatureC }));
      expectWithin(got, expected, row.number('tolerance'), row.line);
    });
  }

  it('agrees with TEOS-10 at 294 points of salinity 0 to 40 and 0 to 40 °C: 2e-8 µmol/kg, 1e-4 mg/L', () => {
    for (const row of checkRows('seawater/oxygen-teos10.csv')) {
      const water = { salinity: row.number('salinity'), temperatureC: row.number('temperatureC') };
      expectWithin(answered(oxygenSolubilityUmolKg(water)), row.number('oxygenUmolKg'), 2e-8, row.line);
      expectWithin(answered(oxygenSolubilityMgL(water)), row.number('oxygenMgL'), 1e-4, row.line);
    }
  });

  const mgL = checkRows('seawater/oxygen-mg-l.csv');
  it.each([...new Set(mgL.map((row) => row.text('source')))])('agrees in mg/L with: %s', (source) => {
    for (const row of mgL.filter((one) => one.text('source') === source)) {
      const got = answered(
        oxygenSolubilityMgL({
          salinity: row.number('salinity'),
          temperatureC: row.number('temperatureC'),
          pressureKpa: row.number('pressureAtm') * 101.325,
        }),
      );
      expectWithin(got, row.number('oxygenMgL'), row.number('tolerance'), row.line);
    }
  });

  // OCMIP-2 gives 0.282015 mol/m³ from the same paper's mL/L coefficients at salinity 35 and 10 °C (t68): a second route.
  it('agrees in mL/L with the check value of OCMIP-2 within 0.01 %', () => {
    const got = answered(oxygenSolubilityMgL({ salinity: 35, temperatureC: its90(10) })) / MG_PER_ML;
    expectWithin(got, 0.282015 * 22.3916, 0.0006, 'OCMIP-2');
  });

  // Computed apart from this program, from Garcia and Gordon 1992, EOS-80 and Weiss and Price 1980.
  it.each([
    [7, 35, 20, 1, 94.659],
    [5, 35, 25, 1, 73.8474],
    [6.5, 32, 18, 0.95, 87.6473],
    [8, 0, 15, 0.9, 88.3238],
  ])('%d mg/L at salinity %d, %d °C and %d atm is %d %', (oxygenMgL, salinity, temperatureC, pressureAtm, expected) => {
    const water = { salinity, temperatureC, pressureKpa: pressureAtm * 101.325 };
    const got = answered(oxygenSaturationPct({ oxygenMgL, ...water }));
    expectWithin(got, expected, 0.005, 'saturation');
    expectWithin(answered(oxygenMgLFromSaturation({ saturationPct: got, ...water })), oxygenMgL, 1e-12, 'and back');
  });

  // Computed from Benson and Krause 1984, eq. 32.
  it('70 % at salinity 30 and 24 °C is 4.962 mg/L', () => {
    const got = answered(oxygenMgLFromSaturation({ saturationPct: 70, salinity: 30, temperatureC: 24 }));
    expectWithin(got, 4.96245, 0.001, '70 %');
  });
});

describe('A meter set to the wrong salinity', () => {
  // Computed from Benson and Krause 1984, eq. 32: 5 mg/L are shown as 5.93735.
  it('shows 18.7 % too much in water of 30 at 24 °C when it is set to fresh water', () => {
    const meter = { meterSalinity: 0, salinity: 30, temperatureC: 24 };
    expectWithin(answered(oxygenMeterErrorPct(meter)), 18.7471, 0.02, 'error');
    expectWithin(answered(oxygenMgLFromMeter({ shownMgL: 5.93735, ...meter })), 5, 0.001, 'true mg/L');
  });

  // Computed from the same: 9.09 shown for 7.39.
  it('shows 9.09 for 7.39 mg/L in water of 35 at 20 °C', () => {
    const got = answered(oxygenMgLFromMeter({ shownMgL: 9.09, meterSalinity: 0, salinity: 35, temperatureC: 20 }));
    expectWithin(got, 7.39, 0.005, 'true mg/L');
  });
});

describe('The air above the water', () => {
  it('holds the vapour that Weiss and Price 1980 give', () => {
    for (const row of checkRows('seawater/vapour-pressure.csv')) {
      const water = { salinity: row.number('salinity'), temperatureC: its90(row.number('ipts68C')) };
      expectWithin(answered(vapourPressureKpa(water)) / 101.325, row.number('vapourPressureAtm'), 0.0000001, row.line);
    }
  });

  it('has the pressure of the standard atmosphere (ISO 2533) at each height', () => {
    for (const row of checkRows('seawater/air-pressure.csv')) {
      const got = answered(airPressureKpaFromAltitude({ altitudeM: row.number('altitudeM') }));
      expectWithin(got, row.number('pressureKpa'), 0.001, row.line);
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

  it('agrees on the total scale with Clegg and Whitfield 1995 as PyCO2SYS computes it', () => {
    for (const row of checkRows('seawater/ammonia-pka.csv')) {
      const water = { ph: 8, salinity: row.number('salinity'), temperatureC: row.number('temperatureC') };
      const fraction = answered(unionisedAmmoniaFraction({ ...water, phScale: 'total' }));
      expectWithin(8 + Math.log10(1 / fraction - 1), row.number('pka'), 0.000001, row.line);
    }
  });
});
