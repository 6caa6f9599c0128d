import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { forecastThinning, type OxygenCourse, type Thinning } from '../../../rules/bed/forecast.js';
import { oxygenPenetration } from '../../../rules/bed/penetration.js';
import type { BedSettings, BedWater } from '../../../rules/bed/settings.js';
import { oxygenAfterMgL } from '../../../rules/seawater/oxygen-budget.js';
import { exactly } from '../../../rules/statistics/interval.js';
import { answered, refused } from '../../support/answered.js';
import { calibrated, SAND, WASTE, WATER } from './sand.js';

const SEED = { seed: 1271, numRuns: 1000 };
const real = (min: number, max: number) => fc.double({ min, max, noNaN: true });

const STEADY: OxygenCourse = { kind: 'steady' };
const SEALED = {
  solubilityMgL: 7.395,
  reaerationPerH: exactly(0),
  exchangePerH: 0,
  inflowOxygenMgL: 0,
  uptakeMgLPerH: { low: 0.2, mid: 0.3, high: 0.6 },
};

const forecast = (limitDepthMm: number, course: OxygenCourse, bed: BedSettings = SAND, water: BedWater = WATER) =>
  answered(forecastThinning({ bed, water, calibration: calibrated(5), atMs: 0, limitDepthMm, course }));

const likelyOf = (limitDepthMm: number, course: OxygenCourse, bed?: BedSettings, water?: BedWater): Thinning => {
  const whole = forecast(limitDepthMm, course, bed, water);
  if (whole.kind !== 'calibrated') throw new Error(whole.why);
  return whole.likely;
};

const depthMm = (bed: BedSettings, water: BedWater): number => {
  const penetration = answered(oxygenPenetration({ bed, water, calibration: calibrated(5), atMs: 0 }));
  return penetration.kind === 'calibrated' ? penetration.depthMm.mid : Number.NaN;
};

const hoursOf = (thinning: Thinning): number =>
  thinning.kind === 'already' ? 0 : thinning.kind === 'reaches' ? thinning.hours : Number.POSITIVE_INFINITY;

describe('The hours until the oxygenated layer is thinner than a set depth', () => {
  it('end when the falling oxygen has brought it to just that depth', () => {
    fc.assert(
      fc.property(real(0.5, 4), (limit) => {
        const likely = likelyOf(limit, { kind: 'budget', outlook: SEALED });
        if (likely.kind !== 'reaches') return;
        expect(likely.first).toBe('oxygen');
        const { uptakeMgLPerH, reaerationPerH, ...tank } = SEALED;
        const rates = { uptakeMgLPerH: uptakeMgLPerH.mid, reaerationPerH: reaerationPerH.mid };
        const oxygenMgL = answered(
          oxygenAfterMgL({ ...tank, ...rates, oxygenMgL: WATER.oxygenMgL, hours: likely.hours }),
        );
        expect(depthMm(SAND, { ...WATER, oxygenMgL })).toBeCloseTo(limit, 6);
      }),
      SEED,
    );
  });

  it('end at just that depth also when water is pumped through the bed, by oxygen and by load', () => {
    const bed = { ...SAND, waste: WASTE, throughFlowLM2H: 20 };
    const water = { ...WATER, daysSinceCleaning: 1, throughFlowLM2H: 20 };
    const calibration = { ...calibrated(2), pumped: true };
    const depth = (tank: BedWater): number => {
      const penetration = answered(oxygenPenetration({ bed, water: tank, calibration, atMs: 0 }));
      return penetration.kind === 'calibrated' ? penetration.depthMm.mid : Number.NaN;
    };
    const limitDepthMm = 0.8 * depth(water);
    const hours = (course: OxygenCourse): number => {
      const whole = answered(forecastThinning({ bed, water, calibration, atMs: 0, limitDepthMm, course }));
      return whole.kind === 'calibrated' ? hoursOf(whole.likely) : Number.NaN;
    };
    const byLoad = hours(STEADY);
    expect(depth({ ...water, daysSinceCleaning: 1 + byLoad / 24 })).toBeCloseTo(limitDepthMm, 6);
    const byOxygen = hours({ kind: 'slope', slopeMgLPerH: exactly(-0.5) });
    expect(depth({ ...water, oxygenMgL: WATER.oxygenMgL - 0.5 * byOxygen })).toBeCloseTo(limitDepthMm, 6);
  });

  it('end when the growing load has brought it to just that depth', () => {
    fc.assert(
      fc.property(real(0.5, 6), real(0, 20), real(10, 30), (limit, daysSinceCleaning, temperatureC) => {
        const bed = { ...SAND, waste: WASTE };
        const water = { ...WATER, daysSinceCleaning, temperatureC };
        const likely = likelyOf(limit, STEADY, bed, water);
        if (likely.kind !== 'reaches') return;
        expect(likely.first).toBe('load');
        const later = { ...water, daysSinceCleaning: daysSinceCleaning + likely.hours / 24 };
        expect(depthMm(bed, later)).toBeCloseTo(limit, 6);
      }),
      SEED,
    );
  });

  it('name the oxygen when it gets there in hours and the load in days', () => {
    const bed = { ...SAND, waste: WASTE };
    const water = { ...WATER, daysSinceCleaning: 1 };
    const limit = 0.8 * depthMm(bed, water);
    expect(likelyOf(limit, STEADY, bed, water)).toMatchObject({ kind: 'reaches', first: 'load' });
    expect(likelyOf(limit, { kind: 'budget', outlook: SEALED }, bed, water)).toMatchObject({ first: 'oxygen' });
    const slope = { kind: 'slope', slopeMgLPerH: { low: -0.4, mid: -0.2, high: 0 } } as const;
    expect(likelyOf(limit, slope, bed, water)).toMatchObject({ kind: 'reaches', first: 'oxygen' });
  });

  it('say never for a clean bed in steady water', () => {
    expect(likelyOf(1, STEADY)).toEqual({ kind: 'never' });
  });

  it('say already when the layer is thinner now', () => {
    expect(likelyOf(1.1 * depthMm(SAND, WATER), STEADY)).toEqual({ kind: 'already' });
  });

  it('come soonest, likely, latest', () => {
    fc.assert(
      fc.property(real(0.1, 20), real(0, 40), (limit, daysSinceCleaning) => {
        const water = { ...WATER, daysSinceCleaning };
        const whole = forecast(limit, { kind: 'budget', outlook: SEALED }, { ...SAND, waste: WASTE }, water);
        if (whole.kind !== 'calibrated') throw new Error(whole.why);
        const [soonest, likely, latest] = [whole.soonest, whole.likely, whole.latest].map(hoursOf);
        expect((soonest ?? 0) <= (likely ?? 0) && (likely ?? 0) <= (latest ?? 0)).toBe(true);
      }),
      SEED,
    );
  });

  it('have no likely one for a bed that is not calibrated', () => {
    const outlook = { bed: SAND, water: WATER, atMs: 0, limitDepthMm: 1, course: STEADY };
    expect(answered(forecastThinning(outlook))).toEqual({
      kind: 'uncalibrated',
      why: 'never-calibrated',
      soonest: { kind: 'already' },
      latest: { kind: 'never' },
    });
  });

  it('have no answer for a limit deeper than the bed', () => {
    const outlook = { bed: SAND, water: WATER, atMs: 0, limitDepthMm: 151, course: STEADY };
    expect(refused(forecastThinning(outlook))).toMatchObject({ because: 'limit-deeper-than-bed' });
  });
});
