import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { HoursLeft } from '../../../rules/seawater/hours-left.js';
import { hoursUntilOxygen } from '../../../rules/seawater/oxygen-budget.js';
import {
  hoursOfOxygenLeft,
  hoursOfOxygenLeftFromSlope,
  type OxygenOutlook,
} from '../../../rules/seawater/oxygen-left.js';
import { exactly, type Interval, withinFactor } from '../../../rules/statistics/interval.js';
import { answered, refused } from '../../support/answered.js';

const SEED = { seed: 9781, numRuns: 2000 };

const SEALED: OxygenOutlook = {
  oxygenMgL: exactly(7),
  solubilityMgL: 7.4,
  reaerationPerH: exactly(0),
  exchangePerH: 0,
  inflowOxygenMgL: 0,
  uptakeMgLPerH: withinFactor(0.5, 2),
};

const real = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const anyInterval = (min: number, max: number): fc.Arbitrary<Interval> =>
  fc
    .tuple(real(min, max), real(min, max), real(min, max))
    .map((three) => three.toSorted((a, b) => a - b))
    .map(([low = 0, mid = 0, high = 0]) => ({ low, mid, high }));

const soonestOf = (left: HoursLeft): number => {
  if (left.kind === 'already') return 0;
  if (left.kind === 'reaches') return left.hours.low;
  return left.kind === 'may-reach' ? left.soonestHours : Number.POSITIVE_INFINITY;
};

describe('The hours left when air and flow stop', () => {
  it('are 3, 6 and 12 for an uptake known within a factor of two', () => {
    const left = answered(hoursOfOxygenLeft({ ...SEALED, limitMgL: 4 }));
    expect(left).toEqual({ kind: 'reaches', hours: { low: 3, mid: 6, high: 12 } });
  });

  it('take the accuracy of the probe into the range', () => {
    const oxygenMgL = { low: 6.8, mid: 7, high: 7.2 };
    const left = answered(hoursOfOxygenLeft({ ...SEALED, oxygenMgL, limitMgL: 4 }));
    expect(left.kind === 'reaches' && left.hours.low).toBeCloseTo(2.8, 9);
    expect(left.kind === 'reaches' && left.hours.high).toBeCloseTo(12.8, 9);
  });

  it('say already at the limit', () => {
    expect(answered(hoursOfOxygenLeft({ ...SEALED, limitMgL: 7 }))).toEqual({ kind: 'already' });
  });

  it('say that it may be reached when only the bad end of the range gets there', () => {
    const left = answered(
      hoursOfOxygenLeft({ ...SEALED, reaerationPerH: { low: 0.05, mid: 0.2, high: 1 }, limitMgL: 4 }),
    );
    expect(left).toMatchObject({ kind: 'may-reach' });
    expect(left).not.toHaveProperty('likelyHours');
  });

  it('say never when not even the bad end gets there', () => {
    const left = answered(hoursOfOxygenLeft({ ...SEALED, reaerationPerH: exactly(2), limitMgL: 4 }));
    expect(left).toEqual({ kind: 'never' });
  });

  it('are never later at the soonest than any tank inside the ranges', () => {
    fc.assert(
      fc.property(
        fc.record({
          oxygenMgL: anyInterval(0, 12),
          reaerationPerH: anyInterval(0, 3),
          uptakeMgLPerH: anyInterval(0, 5),
          exchangePerH: fc.oneof(fc.constant(0), real(0, 3)),
          limitMgL: real(0.1, 11),
        }),
        fc.tuple(real(0, 1), real(0, 1), real(0, 1)),
        (tank, [a, b, c]) => {
          const water = { solubilityMgL: 7.4, inflowOxygenMgL: 7 };
          const left = answered(hoursOfOxygenLeft({ ...water, ...tank }));
          const inside = ({ low, high }: Interval, share: number): number => low + share * (high - low);
          const oxygenMgL = inside(tank.oxygenMgL, a);
          if (oxygenMgL <= tank.limitMgL) return;
          const reach = answered(
            hoursUntilOxygen({
              ...water,
              oxygenMgL,
              reaerationPerH: inside(tank.reaerationPerH, b),
              uptakeMgLPerH: inside(tank.uptakeMgLPerH, c),
              exchangePerH: tank.exchangePerH,
              targetMgL: tank.limitMgL,
            }),
          );
          if (reach.kind === 'reaches') expect(soonestOf(left)).toBeLessThanOrEqual(reach.hours * (1 + 1e-6) + 1e-9);
          if (left.kind === 'reaches')
            expect(reach.kind === 'reaches' && reach.hours <= left.hours.high * (1 + 1e-6) + 1e-9).toBe(true);
        },
      ),
      SEED,
    );
  });

  it('are those of the closed form when nothing is uncertain, also from above saturation', () => {
    fc.assert(
      fc.property(
        real(5, 15),
        real(0, 3),
        real(0.1, 5),
        real(0, 3),
        real(0.1, 5),
        (o2, air, uptake, exchangePerH, limitMgL) => {
          const water = { solubilityMgL: 7.4, inflowOxygenMgL: 7, exchangePerH };
          const known = { oxygenMgL: exactly(o2), reaerationPerH: exactly(air), uptakeMgLPerH: exactly(uptake) };
          const left = answered(hoursOfOxygenLeft({ ...water, ...known, limitMgL }));
          const rates = { oxygenMgL: o2, reaerationPerH: air, uptakeMgLPerH: uptake };
          const reach = answered(hoursUntilOxygen({ ...water, ...rates, targetMgL: limitMgL }));
          if (o2 <= limitMgL) expect(left.kind).toBe('already');
          else if (reach.kind === 'never') expect(left.kind).toBe('never');
          else if (left.kind === 'reaches') expect(left.hours.mid).toBeCloseTo(reach.hours, 6);
          else throw new Error(`${left.kind}, not in ${reach.hours} h`);
        },
      ),
      SEED,
    );
  });

  it('come in order and are finite', () => {
    fc.assert(
      fc.property(
        anyInterval(0, 50),
        anyInterval(0, 1000),
        anyInterval(0, 10_000),
        real(0, 50),
        (oxygenMgL, reaerationPerH, uptakeMgLPerH, limitMgL) => {
          const left = answered(hoursOfOxygenLeft({ ...SEALED, oxygenMgL, reaerationPerH, uptakeMgLPerH, limitMgL }));
          if (left.kind !== 'reaches') return;
          const { low, mid, high } = left.hours;
          expect(low >= 0 && low <= mid && mid <= high && Number.isFinite(high)).toBe(true);
        },
      ),
      SEED,
    );
  });
});

describe('The hours left by the slope measured since the failure', () => {
  const tank = { oxygenMgL: exactly(6.5), slopeMgLPerH: { low: -2, mid: -1, high: -0.5 }, limitMgL: 4.5 };

  it('are the way to go over the slope', () => {
    expect(answered(hoursOfOxygenLeftFromSlope(tank))).toEqual({
      kind: 'reaches',
      hours: { low: 1, mid: 2, high: 4 },
    });
  });

  it('leave the end open when the slope may not be falling at all', () => {
    const slopeMgLPerH = { low: -2, mid: -1, high: 0.1 };
    expect(answered(hoursOfOxygenLeftFromSlope({ ...tank, slopeMgLPerH }))).toEqual({
      kind: 'may-reach',
      soonestHours: 1,
      likelyHours: 2,
    });
  });

  it('refuse a slope that is not a number', () => {
    expect(refused(hoursOfOxygenLeftFromSlope({ ...tank, slopeMgLPerH: exactly(Number.NaN) }))).toEqual({
      code: 'not-finite',
      what: 'slopeMgLPerH',
    });
  });
});
