import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { oxygenMgLFromSaturation, oxygenSaturationPct } from '../../../rules/seawater/oxygen.js';
import { oxygenMeterErrorPct, oxygenMgLFromMeter } from '../../../rules/seawater/oxygen-meter.js';
import { answered, expectWithin } from '../../support/answered.js';

const SEED = { seed: 142, numRuns: 2000 };
const span = (min: number, max: number) => fc.double({ min, max, noNaN: true });

describe('An oxygen meter and its salinity setting', () => {
  it('is right when the setting is right', () => {
    const meter = { meterSalinity: 31, salinity: 31, temperatureC: 24 };
    expect(answered(oxygenMeterErrorPct(meter))).toBe(0);
    expect(answered(oxygenMgLFromMeter({ shownMgL: 6.2, ...meter }))).toBe(6.2);
  });

  it('shows too much when set fresher than the water, too little when set saltier', () => {
    fc.assert(
      fc.property(span(0, 50), span(0, 50), span(-2, 45), (meterSalinity, salinity, temperatureC) => {
        fc.pre(Math.abs(meterSalinity - salinity) > 0.001);
        const error = answered(oxygenMeterErrorPct({ meterSalinity, salinity, temperatureC }));
        expect(Math.sign(error)).toBe(Math.sign(salinity - meterSalinity));
      }),
      SEED,
    );
  });

  it('knows the saturation all the same: undoing the setting gives the mg/L of that saturation', () => {
    const temperatureC = 24;
    const saturationPct = answered(oxygenSaturationPct({ oxygenMgL: 5.9, salinity: 0, temperatureC }));
    const meter = { meterSalinity: 0, salinity: 30, temperatureC };
    expectWithin(
      answered(oxygenMgLFromMeter({ shownMgL: 5.9, ...meter })),
      answered(oxygenMgLFromSaturation({ saturationPct, salinity: 30, temperatureC })),
      1e-12,
      'undone',
    );
  });
});
