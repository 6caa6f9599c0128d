import { describe, it } from 'vitest';
import { airPressureKpaFromAltitude } from '../../rules/seawater/air-pressure.js';
import {
  oxygenMgLFromSaturation,
  oxygenSaturationPct,
  oxygenSolubilityMgL,
  oxygenSolubilityUmolKg,
} from '../../rules/seawater/oxygen.js';
import { oxygenMeterErrorPct, oxygenMgLFromMeter } from '../../rules/seawater/oxygen-meter.js';
import { MG_PER_ML } from '../../rules/seawater/oxygen-unit.js';
import { vapourPressureKpa } from '../../rules/seawater/vapour-pressure.js';
import { answered, expectWithin } from '../support/answered.js';
import { checkRows } from '../support/check-values.js';

/** Published values on the old scale enter the equations as they are: undo what the rules will do. */
const its90 = (ipts68C: number): number => ipts68C / 1.00024;

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
