import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { exactly, refusalForInterval, withinFactor } from '../../../rules/statistics/interval.js';
import {
  q10FromRates,
  q10FromTheta,
  rateAtTemperature,
  thetaFromQ10,
} from '../../../rules/statistics/temperature-response.js';
import { survivalHoursAt, thermalDeathLine, thermalDose } from '../../../rules/statistics/thermal-dose.js';
import { answered, refused } from '../../support/answered.js';

const SEED = { seed: 10, numRuns: 1000 };
const real = (min: number, max: number) => fc.double({ min, max, noNaN: true });

describe('Q10', () => {
  it('is found again in the rates that it made', () => {
    fc.assert(
      fc.property(real(0.1, 100), real(1, 4), real(0, 15), real(16, 30), (rate, q10, fromC, toC) => {
        const rateAtTo = answered(rateAtTemperature({ rate, q10, fromC, toC }));
        expect(answered(q10FromRates({ rateAtFrom: rate, rateAtTo, fromC, toC }))).toBeCloseTo(q10, 6);
        expect(answered(q10FromTheta(answered(thetaFromQ10(q10))))).toBeCloseTo(q10, 9);
      }),
      SEED,
    );
  });

  it('cannot be told at one temperature', () => {
    expect(refused(q10FromRates({ rateAtFrom: 1, rateAtTo: 2, fromC: 20, toC: 20 }))).toMatchObject({
      because: 'temperatures-too-close',
    });
  });

  it('leaves a rate of nothing at nothing', () => {
    expect(answered(rateAtTemperature({ rate: 0, q10: 2, fromC: 10, toC: 20 }))).toBe(0);
  });
});

describe('The thermal death line', () => {
  const cooler = { temperatureC: 30, hours: 200 };
  const warmer = { temperatureC: 34, hours: 5 };

  it('refuses two survival times that were exchanged', () => {
    expect(
      refused(thermalDeathLine({ cooler: warmer, warmer: { ...cooler, temperatureC: 36 }, marginC: 2 })),
    ).toMatchObject({
      because: 'survival-not-falling',
    });
    expect(refused(thermalDeathLine({ cooler, warmer: cooler, marginC: 2 }))).toMatchObject({
      because: 'survival-not-falling',
    });
  });

  it('is not carried to mild temperatures', () => {
    const line = answered(thermalDeathLine({ cooler, warmer, marginC: 2 }));
    expect(refused(survivalHoursAt(line, 20))).toMatchObject({ code: 'out-of-range', low: 28 });
  });

  it('gives finite doses that grow with every spell, or a reason', () => {
    const anySpell = fc.record({ temperatureC: real(0, 60), hours: real(0, 1000) });
    fc.assert(
      fc.property(fc.array(anySpell), real(26, 35), real(0.01, 400), real(0.5, 5), (spells, at, hours, apart) => {
        const line = thermalDeathLine({
          cooler: { temperatureC: at, hours: hours * 10 },
          warmer: { temperatureC: at + apart, hours },
          marginC: 2,
        });
        if (!line.ok) return;
        const [all, fewer] = [thermalDose(line.value, spells), thermalDose(line.value, spells.slice(1))];
        if (!all.ok || !fewer.ok) return;
        expect(Number.isFinite(all.value) && all.value >= fewer.value * (1 - 1e-12)).toBe(true);
      }),
      SEED,
    );
  });
});

describe('A number with its range', () => {
  it('is refused when its ends are out of order or out of range', () => {
    expect(refusalForInterval('uptake', { low: 2, mid: 1, high: 3 }, [0, 9])).toMatchObject({
      because: 'interval-out-of-order',
    });
    expect(refusalForInterval('uptake', withinFactor(5, 2), [0, 9])).toMatchObject({ code: 'out-of-range', value: 10 });
    expect(refusalForInterval('uptake', exactly(0), [0, 9])).toBeUndefined();
  });
});
