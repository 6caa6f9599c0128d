import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { calibrateBed, transportRange } from '../../../rules/bed/calibration.js';
import { oxygenPenetration } from '../../../rules/bed/penetration.js';
import { answered, refused } from '../../support/answered.js';
import { calibrated, DAY_MS, SAND, WASTE, WATER } from './sand.js';

const real = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const core = (depthMm: number) => ({ kind: 'core', depthMm, atMs: 0 }) as const;

describe('The calibration of a bed by what was seen', () => {
  it('gives back the depth that was seen, in the water and with the load of that day', () => {
    const anyDay = fc.record({
      oxygenMgL: real(1, 12),
      temperatureC: real(2, 32),
      salinity: real(5, 40),
      filmMm: real(0, 3),
      throughFlowLM2H: fc.oneof(fc.constant(0), real(1, 500)),
      daysSinceCleaning: real(0, 60),
    });
    fc.assert(
      fc.property(anyDay, real(0.5, 100), (day, depthMm) => {
        const bed = { ...SAND, waste: WASTE };
        const water = { ...WATER, ...day };
        const calibrated = calibrateBed({ bed, water, sight: core(depthMm) });
        // Half a millimetre under a strong pump contradicts itself, and is refused.
        if (!calibrated.ok) {
          expect(calibrated.fault).toMatchObject({ because: 'layer-not-explained' });
          return;
        }
        const calibration = calibrated.value;
        const penetration = answered(oxygenPenetration({ bed, water, calibration, atMs: 0 }));
        expect(penetration.kind === 'calibrated' ? penetration.depthMm.mid : undefined).toBeCloseTo(depthMm, 9);
      }),
      { seed: 40, numRuns: 1000 },
    );
  });

  // L J / (2 phi Ds C0), computed: 11.103545 mm at 5 mmol/m2/day, porosity 0.40, 20 °C, saturated, is a transport of 5.
  it('is a transport of 5 for 11.1 mm of light sand at 5 mmol/m2/day and demand as when saturated', () => {
    const bed = { ...SAND, cleanDemandMmolM2Day: 5 };
    const water = { ...WATER, oxygenMgL: WATER.solubilityAt20MgL, filmMm: 0 };
    const { transport } = answered(calibrateBed({ bed, water, sight: core(11.103545) }));
    expect(transport).toBeCloseTo(5, 4);
  });

  it('remembers that black sand begins below the oxygen, and so overstates the depth', () => {
    const sight = { kind: 'black-edge', depthMm: 12, atMs: 0 } as const;
    expect(answered(calibrateBed({ bed: SAND, water: WATER, sight })).doubts).toEqual(['black-edge-overstates']);
  });

  it('doubts a layer thinner than still diffusion makes, and one thicker than anything published', () => {
    expect(answered(calibrateBed({ bed: SAND, water: WATER, sight: core(0.2) })).doubts).toEqual([
      'thinner-than-explained',
    ]);
    const fouled = { ...SAND, cleanDemandMmolM2Day: 60 };
    expect(answered(calibrateBed({ bed: fouled, water: WATER, sight: core(140) })).doubts).toEqual([
      'thicker-than-published',
    ]);
  });

  it('learns nothing from a bed that is clear down to its bottom', () => {
    expect(refused(calibrateBed({ bed: SAND, water: WATER, sight: core(150) }))).toMatchObject({
      because: 'whole-bed-clear',
    });
  });

  it('cannot explain a layer under water without oxygen', () => {
    const water = { ...WATER, oxygenMgL: 0 };
    expect(refused(calibrateBed({ bed: SAND, water, sight: core(5) }))).toMatchObject({
      because: 'layer-not-explained',
    });
  });
});

describe('The transport to reckon with', () => {
  it('holds what an old calibration says, and the wide range too', () => {
    const range = transportRange({ calibration: calibrated(40), water: WATER, atMs: 40 * DAY_MS });
    expect(range).toEqual({ kind: 'uncalibrated', why: 'calibration-old', low: 0.5, high: 80 });
  });

  it('does not carry a calibration over to a bed whose pump was switched on or off since', () => {
    const water = { ...WATER, throughFlowLM2H: 50 };
    expect(transportRange({ calibration: calibrated(5), water, atMs: DAY_MS })).toMatchObject({ why: 'pump-changed' });
  });

  it('does not judge an earlier day by a later calibration', () => {
    expect(transportRange({ calibration: calibrated(5), water: WATER, atMs: -1 })).toMatchObject({
      kind: 'uncalibrated',
      why: 'never-calibrated',
    });
  });
});
