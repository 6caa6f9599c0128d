import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  hoursUntilOxygen,
  hoursUntilOxygenSlowing,
  type OxygenBalance,
  oxygenAfterMgL,
  steadyOxygenMgL,
} from '../../../rules/seawater/oxygen-budget.js';
import { reaerationFromTwoReadings } from '../../../rules/seawater/reaeration.js';
import { respirationMgPerH } from '../../../rules/seawater/respiration.js';
import { answered, refused } from '../../support/answered.js';

const SEED = { seed: 7395, numRuns: 2000 };

const SEALED: OxygenBalance = {
  oxygenMgL: 7,
  solubilityMgL: 7.4,
  reaerationPerH: 0,
  exchangePerH: 0,
  inflowOxygenMgL: 0,
  uptakeMgLPerH: 0.5,
};

const real = (min: number, max: number) => fc.double({ min, max, noNaN: true });

const anyBalance: fc.Arbitrary<OxygenBalance> = fc.record({
  oxygenMgL: real(0, 15),
  solubilityMgL: real(5, 15),
  reaerationPerH: fc.oneof(fc.constant(0), real(0, 20)),
  exchangePerH: fc.oneof(fc.constant(0), real(0, 20)),
  inflowOxygenMgL: real(0, 15),
  uptakeMgLPerH: fc.oneof(fc.constant(0), real(0, 20)),
});

/** The balance itself, marched in small steps (classical Runge-Kutta): not the closed form under test. */
const marched = (balance: OxygenBalance, hours: number): number => {
  const slope = (c: number): number =>
    balance.reaerationPerH * (balance.solubilityMgL - c) +
    balance.exchangePerH * (balance.inflowOxygenMgL - c) -
    balance.uptakeMgLPerH;
  const steps = 2000;
  const h = hours / steps;
  let c = balance.oxygenMgL;
  for (let i = 0; i < steps; i++) {
    const k1 = slope(c);
    const k2 = slope(c + (h * k1) / 2);
    const k3 = slope(c + (h * k2) / 2);
    const k4 = slope(c + h * k3);
    c += (h * (k1 + 2 * k2 + 2 * k3 + k4)) / 6;
  }
  return c;
};

describe('The oxygen budget of a tank', () => {
  it('agrees with the balance marched in small steps', () => {
    fc.assert(
      fc.property(anyBalance, real(0, 6), (balance, hours) => {
        const expected = Math.max(0, marched(balance, hours));
        expect(answered(oxygenAfterMgL({ ...balance, hours }))).toBeCloseTo(expected, 6);
      }),
      { ...SEED, numRuns: 300 },
    );
  });

  it('is at the target after the hours it names', () => {
    fc.assert(
      fc.property(anyBalance, real(0.01, 15), (balance, targetMgL) => {
        const reach = answered(hoursUntilOxygen({ ...balance, targetMgL }));
        if (reach.kind === 'never' || reach.hours > 1000) return;
        expect(answered(oxygenAfterMgL({ ...balance, hours: reach.hours }))).toBeCloseTo(targetMgL, 6);
      }),
      SEED,
    );
  });

  it('is still on the same side of the target after 1000 h when it says never', () => {
    fc.assert(
      fc.property(anyBalance, real(0.01, 15), (balance, targetMgL) => {
        const reach = answered(hoursUntilOxygen({ ...balance, targetMgL }));
        if (reach.kind === 'reaches') return;
        const after = answered(oxygenAfterMgL({ ...balance, hours: 1000 }));
        // At the settling level itself only the last digits may touch it.
        if (Math.abs(after - targetMgL) < 1e-9) return;
        expect(after > targetMgL).toBe(balance.oxygenMgL > targetMgL);
      }),
      SEED,
    );
  });

  it('never lasts longer with more uptake', () => {
    fc.assert(
      fc.property(anyBalance, real(0, 5), real(0.01, 15), (balance, more, limit) => {
        const targetMgL = Math.min(limit, balance.oxygenMgL);
        const reach = answered(hoursUntilOxygen({ ...balance, targetMgL }));
        const uptakeMgLPerH = balance.uptakeMgLPerH + more;
        const hungrier = answered(hoursUntilOxygen({ ...balance, uptakeMgLPerH, targetMgL }));
        if (reach.kind === 'never') return;
        expect(hungrier.kind === 'reaches' && hungrier.hours <= reach.hours * (1 + 1e-9) + 1e-12).toBe(true);
      }),
      SEED,
    );
  });

  it('falls in a straight line when nothing comes in', () => {
    expect(answered(oxygenAfterMgL({ ...SEALED, hours: 4 }))).toBe(5);
    expect(answered(hoursUntilOxygen({ ...SEALED, targetMgL: 4 }))).toEqual({ kind: 'reaches', hours: 6 });
  });

  it('ends at nothing, not below', () => {
    expect(answered(oxygenAfterMgL({ ...SEALED, hours: 100 }))).toBe(0);
    expect(answered(steadyOxygenMgL({ ...SEALED, reaerationPerH: 0.01 }))).toBe(0);
  });

  it('says never for a tank that nothing draws on', () => {
    expect(answered(hoursUntilOxygen({ ...SEALED, uptakeMgLPerH: 0, targetMgL: 4 }))).toEqual({ kind: 'never' });
  });

  it('says 0 hours for a target that is there already', () => {
    expect(answered(hoursUntilOxygen({ ...SEALED, targetMgL: 7 }))).toEqual({ kind: 'reaches', hours: 0 });
  });

  it('does not settle without air and flow', () => {
    expect(refused(steadyOxygenMgL(SEALED))).toEqual({ code: 'impossible', because: 'no-air-and-no-flow' });
  });

  it('refuses a negative rate and a missing saturation', () => {
    expect(refused(oxygenAfterMgL({ ...SEALED, uptakeMgLPerH: -1, hours: 1 }))).toMatchObject({
      code: 'out-of-range',
      what: 'uptakeMgLPerH',
    });
    expect(refused(oxygenAfterMgL({ ...SEALED, solubilityMgL: Number.NaN, hours: 1 }))).toEqual({
      code: 'not-finite',
      what: 'solubilityMgL',
    });
  });

  it('never lasts shorter when animals slow down at low oxygen, and never ends', () => {
    fc.assert(
      fc.property(
        real(0.1, 12),
        real(0.01, 5),
        real(0.1, 5),
        real(0, 12),
        (oxygenMgL, uptakeMgLPerH, criticalMgL, t) => {
          const targetMgL = Math.min(t, oxygenMgL);
          const tank = { oxygenMgL, uptakeMgLPerH, criticalMgL, targetMgL };
          const slowing = answered(hoursUntilOxygenSlowing(tank));
          const straight = answered(hoursUntilOxygen({ ...SEALED, oxygenMgL, uptakeMgLPerH, targetMgL }));
          if (slowing.kind === 'never') expect(targetMgL).toBeLessThan(1e-9);
          else expect(straight.kind === 'reaches' && straight.hours <= slowing.hours * (1 + 1e-9) + 1e-12).toBe(true);
        },
      ),
      SEED,
    );
  });
});

describe('What a tank takes and gets', () => {
  it('does not find the air in readings that move away from saturation, or end at it', () => {
    const rise = { solubilityMgL: 7.4, firstMgL: 6, secondMgL: 4, hours: 0.5 };
    expect(refused(reaerationFromTwoReadings(rise))).toMatchObject({ because: 'not-nearing-saturation' });
    expect(refused(reaerationFromTwoReadings({ ...rise, secondMgL: 7.4 }))).toMatchObject({
      because: 'not-nearing-saturation',
    });
  });

  it('finds the air just as well in water above saturation', () => {
    expect(
      answered(reaerationFromTwoReadings({ solubilityMgL: 7.4, firstMgL: 10, secondMgL: 8, hours: 0.5 })),
    ).toBeGreaterThan(0);
  });

  it('has no published respiration for an oyster in water too cold for the relation', () => {
    const cold = { relation: 'pacific-oyster-akashige-2005', temperatureC: 8, dryTissueG: 1 } as const;
    expect(refused(respirationMgPerH(cold))).toMatchObject({ code: 'out-of-range', what: 'temperatureC', low: 11.6 });
  });

  it('takes a published respiration as right within a factor of two', () => {
    const oyster = { relation: 'pacific-oyster-bougrier-1995', temperatureC: 20, dryTissueG: 1 } as const;
    const { low, mid, high } = answered(respirationMgPerH(oyster));
    expect(low).toBe(mid / 2);
    expect(high).toBe(mid * 2);
  });
});
