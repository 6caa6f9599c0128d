import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { oxygenPenetration, poreOxygenMinutes } from '../../../rules/bed/penetration.js';
import type { BedSettings, BedWater } from '../../../rules/bed/settings.js';
import { answered, refused } from '../../support/answered.js';
import { calibrated, DAY_MS, SAND, WASTE, WATER } from './sand.js';

const SEED = { seed: 1996, numRuns: 2000 };
const real = (min: number, max: number) => fc.double({ min, max, noNaN: true });

const anyBed: fc.Arbitrary<BedSettings> = fc.record({
  depthM: real(0.01, 1),
  porosity: real(0.2, 0.95),
  cleanDemandMmolM2Day: real(0.1, 200),
  q10: real(1, 5),
  filmMm: real(0, 5),
  throughFlowLM2H: fc.oneof(fc.constant(0), real(0, 500)),
  waste: fc.constant(WASTE),
});

const anyWater: fc.Arbitrary<BedWater> = fc.record({
  oxygenMgL: fc.oneof(fc.constant(0), real(0, 50)),
  temperatureC: real(0, 35),
  salinity: real(0, 42),
  solubilityAt20MgL: real(3, 12),
  filmMm: fc.oneof(fc.constant(0), real(0, 5)),
  throughFlowLM2H: fc.oneof(fc.constant(0), real(0, 500)),
  daysSinceCleaning: real(0, 3650),
});

/** The likely depth of a calibrated bed, mm. */
const depthMm = (bed: BedSettings, water: BedWater): number => {
  const penetration = answered(oxygenPenetration({ bed, water, calibration: calibrated(5), atMs: DAY_MS }));
  if (penetration.kind !== 'calibrated') throw new Error(penetration.why);
  return penetration.depthMm.mid;
};

describe('The estimated oxygenated depth of a bed', () => {
  it('is a wide range without a middle while the bed has never been calibrated', () => {
    const penetration = answered(oxygenPenetration({ bed: SAND, water: WATER, atMs: 0 }));
    expect(penetration).toMatchObject({ kind: 'uncalibrated', why: 'never-calibrated' });
    expect(penetration.depthMm).not.toHaveProperty('mid');
    expect(penetration.depthMm.high / penetration.depthMm.low).toBeCloseTo(20, 9);
  });

  it('is known within a factor of two in the month after a calibration', () => {
    const now = { bed: SAND, water: WATER, calibration: calibrated(5) };
    const penetration = answered(oxygenPenetration({ ...now, atMs: 30 * DAY_MS }));
    if (penetration.kind !== 'calibrated') throw new Error(penetration.why);
    const { low, mid, high } = penetration.depthMm;
    expect(mid / low).toBeCloseTo(2, 9);
    expect(high / mid).toBeCloseTo(2, 9);
    expect(answered(oxygenPenetration({ ...now, atMs: 31 * DAY_MS }))).toMatchObject({
      kind: 'uncalibrated',
      why: 'calibration-old',
    });
  });

  it('ends at the bottom of the bed, and says that it may', () => {
    const shallow = { ...SAND, depthM: 0.005 };
    const penetration = answered(
      oxygenPenetration({ bed: shallow, water: WATER, calibration: calibrated(50), atMs: 0 }),
    );
    expect(penetration.depthMm.high).toBe(5);
    expect(penetration.shareOfBed.high).toBe(1);
    expect(penetration.flags).toContain('may-reach-bottom');
  });

  it('is nothing over water without oxygen, and says so', () => {
    const water = { ...WATER, oxygenMgL: 0 };
    const penetration = answered(oxygenPenetration({ bed: SAND, water, calibration: calibrated(5), atMs: 0 }));
    expect(penetration).toMatchObject({ depthMm: { low: 0, mid: 0, high: 0 }, shareOfClean: 0 });
    expect(penetration.flags).toContain('no-oxygen');
  });

  it('says that the waste is not counted while its supply is not known', () => {
    expect(answered(oxygenPenetration({ bed: SAND, water: WATER, atMs: 0 })).flags).toEqual(['waste-not-counted']);
  });

  it('says that water above 30 °C is beyond what its equation was fitted to', () => {
    const water = { ...WATER, temperatureC: 31 };
    expect(answered(oxygenPenetration({ bed: SAND, water, atMs: 0 })).flags).toContain('warmer-than-fit');
  });

  it('is the whole of the clean depth for a clean bed in saturated water at 20 °C', () => {
    const water = { ...WATER, oxygenMgL: WATER.solubilityAt20MgL };
    expect(answered(oxygenPenetration({ bed: SAND, water, atMs: 0 })).shareOfClean).toBe(1);
  });

  it.each([
    ['the flow over the bed has stopped', { filmMm: 1 }],
    ['the water is at 26 °C, however saturated', { temperatureC: 26, oxygenMgL: 6.66 }],
    ['the pump through the bed has stopped', { throughFlowLM2H: 0 }],
  ])('is a smaller share of the clean depth when %s', (_, change) => {
    const pumped = { ...SAND, throughFlowLM2H: 100 };
    const well = { ...WATER, oxygenMgL: WATER.solubilityAt20MgL, throughFlowLM2H: 100 };
    const bed = 'filmMm' in change ? SAND : pumped;
    const water = 'filmMm' in change ? { ...well, throughFlowLM2H: 0 } : well;
    expect(answered(oxygenPenetration({ bed, water, atMs: 0 })).shareOfClean).toBe(1);
    expect(answered(oxygenPenetration({ bed, water: { ...water, ...change }, atMs: 0 })).shareOfClean).toBeLessThan(
      0.99,
    );
  });

  it('gives the same share of the clean depth whatever the calibration', () => {
    fc.assert(
      fc.property(anyBed, anyWater, real(0.1, 200), (bed, water, transport) => {
        const without = answered(oxygenPenetration({ bed, water, atMs: 0 }));
        const calibration = { ...calibrated(transport), pumped: water.throughFlowLM2H > 0 };
        const withOne = answered(oxygenPenetration({ bed, water, calibration, atMs: 0 }));
        expect(withOne.shareOfClean).toBe(without.shareOfClean);
      }),
      SEED,
    );
  });

  it('is finite, in order and inside the bed for any bed and water', () => {
    fc.assert(
      fc.property(anyBed, anyWater, fc.boolean(), (bed, water, known) => {
        const calibration = known ? { ...calibrated(5), pumped: water.throughFlowLM2H > 0 } : undefined;
        const penetration = answered(oxygenPenetration({ bed, water, calibration, atMs: DAY_MS }));
        const { depthMm: depth, shareOfBed, shareOfClean } = penetration;
        const mid = 'mid' in depth ? depth.mid : depth.low;
        expect(0 <= depth.low && depth.low <= mid && mid <= depth.high).toBe(true);
        expect(depth.high).toBeLessThanOrEqual(bed.depthM * 1000);
        expect(shareOfBed.high).toBeLessThanOrEqual(1);
        expect(Number.isFinite(shareOfClean) && shareOfClean >= 0).toBe(true);
      }),
      SEED,
    );
  });

  const bed = { ...SAND, depthM: 1, waste: WASTE };
  const water = { ...WATER, daysSinceCleaning: 3 };

  it.each([
    ['more oxygen in the water', water, { ...water, oxygenMgL: 7 }],
    ['cooler water', { ...water, temperatureC: 24 }, water],
    ['a thinner still film', { ...water, filmMm: 1 }, water],
    ['a cleaning that is less long ago', { ...water, daysSinceCleaning: 6 }, water],
    ['water pumped through', water, { ...water, throughFlowLM2H: 500 }],
  ])('is deeper with %s', (_, shallower, deeper) => {
    const at = (now: BedWater): number => {
      const calibration = { ...calibrated(5), pumped: now.throughFlowLM2H > 0 };
      const penetration = answered(oxygenPenetration({ bed, water: now, calibration, atMs: 0 }));
      return penetration.kind === 'calibrated' ? penetration.depthMm.mid : Number.NaN;
    };
    expect(at(deeper)).toBeGreaterThan(at(shallower));
  });

  it('never gets deeper when the oxygen of the water falls', () => {
    fc.assert(
      fc.property(anyBed, anyWater, real(0, 1), (anySand, anyTank, share) => {
        const still = { ...anyTank, throughFlowLM2H: 0 };
        const less = { ...still, oxygenMgL: still.oxygenMgL * share };
        expect(depthMm(anySand, less)).toBeLessThanOrEqual(depthMm(anySand, still) * (1 + 1e-12));
      }),
      SEED,
    );
  });

  it('has no answer for a bed with waste but no cleaning in the log', () => {
    expect(refused(oxygenPenetration({ bed, water: WATER, atMs: 0 }))).toEqual({
      code: 'impossible',
      because: 'cleaning-not-logged',
    });
  });

  it.each([
    ['porosity', { ...SAND, porosity: 0.1 }, WATER],
    ['depthM', { ...SAND, depthM: 0 }, WATER],
    ['cleanDemandMmolM2Day', { ...SAND, cleanDemandMmolM2Day: 0 }, WATER],
    ['oxygenMgL', SAND, { ...WATER, oxygenMgL: -0.1 }],
    ['temperatureC', SAND, { ...WATER, temperatureC: 36 }],
  ])('has no answer when %s is out of range', (what, sand, tank) => {
    expect(refused(oxygenPenetration({ bed: sand, water: tank, atMs: 0 }))).toMatchObject({
      code: 'out-of-range',
      what,
    });
  });
});

describe('The oxygen held in the pores', () => {
  it('lasts minutes when the pump through the bed stops, over a range', () => {
    const water = { ...WATER, throughFlowLM2H: 50 };
    const { low, high } = answered(poreOxygenMinutes({ bed: { ...SAND, throughFlowLM2H: 50 }, water, atMs: 0 }));
    expect(low).toBeGreaterThan(0);
    expect(high / low).toBeCloseTo(20, 9);
  });
});
