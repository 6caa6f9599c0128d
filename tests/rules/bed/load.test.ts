import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { BED_DEFAULTS, type BedDefault, DEMAND_MMOL_M2_DAY, POROSITY } from '../../../rules/bed/defaults.js';
import { daysUntilLoad, loadAfterCleaningMmolCM2, loadAfterMmolCM2 } from '../../../rules/bed/load.js';
import { bedSettings } from '../../../rules/bed/settings.js';
import { STANDINGS } from '../../../rules/stage/standing.js';
import { answered } from '../../support/answered.js';

const real = (min: number, max: number) => fc.double({ min, max, noNaN: true });

describe('The organic load of a bed between cleanings', () => {
  it('is at the critical load after the days it names', () => {
    fc.assert(
      fc.property(
        real(0, 500),
        real(0, 200),
        real(0.01, 1),
        real(0, 2000),
        (loadMmolCM2, supply, decayPerDay, critical) => {
          const load = { loadMmolCM2, supplyMmolCM2Day: supply, decayPerDay };
          const reach = answered(daysUntilLoad({ ...load, criticalMmolCM2: critical }));
          if (reach.kind === 'never' || reach.days > 3650) return;
          const after = answered(loadAfterMmolCM2({ ...load, days: reach.days }));
          if (loadMmolCM2 >= critical) expect(reach.days).toBe(0);
          else expect(after).toBeCloseTo(critical, 6);
        },
      ),
      { seed: 16, numRuns: 2000 },
    );
  });

  it('never reaches a load above the one at which supply and decay balance', () => {
    const load = { loadMmolCM2: 0, supplyMmolCM2Day: 15, decayPerDay: 0.16 };
    expect(answered(daysUntilLoad({ ...load, criticalMmolCM2: 94 }))).toEqual({ kind: 'never' });
  });

  it('halves in 4.3 days without supply (Giles and Pilditch 2006, abstract)', () => {
    const load = { loadMmolCM2: 100, supplyMmolCM2Day: 0, decayPerDay: 0.16 };
    expect(answered(loadAfterMmolCM2({ ...load, days: 4.332 }))).toBeCloseTo(50, 2);
  });

  it('keeps a quarter when siphoning takes three', () => {
    expect(answered(loadAfterCleaningMmolCM2({ loadMmolCM2: 80, removedShare: 0.75 }))).toBe(20);
  });
});

describe('The settings of a bed', () => {
  it('name every default that nobody has set', () => {
    const { settings, assumed } = bedSettings({ kind: 'aragonite', depthM: 0.1 }, { cleanDemandMmolM2Day: 12 });
    expect(settings).toMatchObject({ depthM: 0.1, porosity: 0.45, cleanDemandMmolM2Day: 12, q10: 2, filmMm: 0.5 });
    expect(assumed).toEqual(['porosity', 'q10', 'filmMm', 'throughFlowLM2H']);
  });

  it('take the porosity that was measured', () => {
    const { settings, assumed } = bedSettings({ kind: 'sand', depthM: 0.1, porosity: 0.37 });
    expect(settings.porosity).toBe(0.37);
    expect(assumed).not.toContain('porosity');
  });

  it('carry a standing with each default, none of them confirmed, and lie in their own range', () => {
    const defaults: readonly BedDefault[] = [POROSITY, DEMAND_MMOL_M2_DAY, BED_DEFAULTS].flatMap((table) =>
      Object.values<BedDefault>(table),
    );
    for (const { value, low = value, high = value, standing } of defaults) {
      expect(STANDINGS).toContain(standing);
      expect(standing).not.toBe('confirmed');
      expect(low <= value && value <= high).toBe(true);
    }
  });
});
