import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chooseUptake, uptakeFromReadings, uptakeFromSlope } from '../../../rules/seawater/oxygen-uptake.js';
import { exactly, withinFactor } from '../../../rules/statistics/interval.js';
import { answered, refused } from '../../support/answered.js';

const SEED = { seed: 333, numRuns: 1000 };
const SEALED = { solubilityMgL: 7.4, reaerationPerH: exactly(0), exchangePerH: 0, inflowOxygenMgL: 0 };
const MINUTE = 60_000;

/** A reading every minute, falling in a straight line, shown to 0.01 mg/L. */
const decline = (minutes: number, fromMgL: number, perHour: number) =>
  Array.from({ length: minutes + 1 }, (_, i) => ({
    atMs: i * MINUTE,
    oxygenMgL: Math.round((fromMgL - (perHour * i) / 60) * 100) / 100,
  }));

describe('The uptake of a tank from its own decline', () => {
  it('finds 0.6 mg/L/h in half an hour of readings, with a range that holds it', () => {
    const readings = decline(30, 7, 0.6);
    const { low, mid, high } = answered(uptakeFromReadings({ ...SEALED, readings, resolutionMgL: 0.01 }));
    expect(mid).toBeCloseTo(0.6, 6);
    expect(low).toBeLessThanOrEqual(0.6 + 1e-9);
    expect(high).toBeGreaterThanOrEqual(0.6 - 1e-9);
  });

  it('is not moved by one bubble on the probe', () => {
    const readings = decline(30, 7, 0.6).map((reading, i) => (i === 12 ? { ...reading, oxygenMgL: 9.3 } : reading));
    expect(answered(uptakeFromReadings({ ...SEALED, readings, resolutionMgL: 0.01 })).mid).toBeCloseTo(0.6, 1);
  });

  it('adds what came through the surface meanwhile', () => {
    const surface = { ...SEALED, reaerationPerH: { low: 0.02, mid: 0.05, high: 0.2 } };
    const { low, mid, high } = answered(
      uptakeFromSlope({ ...surface, slopeMgLPerH: { low: -0.35, mid: -0.3, high: -0.25 }, oxygenMgL: 6 }),
    );
    expect([low, mid, high].map((value) => Number(value.toFixed(3)))).toEqual([0.278, 0.37, 0.63]);
  });

  it('keeps its order and its finite numbers for any decline, and never answers with an uptake below 0', () => {
    const real = (min: number, max: number) => fc.double({ min, max, noNaN: true });
    fc.assert(
      fc.property(
        fc.tuple(real(-20, 20), real(-20, 20), real(-20, 20)),
        fc.tuple(real(0, 5), real(0, 5), real(0, 5)),
        real(0, 15),
        real(0, 5),
        (slopes, airs, oxygenMgL, exchangePerH) => {
          const [a, b, c] = slopes.toSorted((x, y) => x - y);
          const [d, e, f] = airs.toSorted((x, y) => x - y);
          const uptake = uptakeFromSlope({
            solubilityMgL: 8,
            exchangePerH,
            inflowOxygenMgL: 7,
            oxygenMgL,
            slopeMgLPerH: { low: a ?? 0, mid: b ?? 0, high: c ?? 0 },
            reaerationPerH: { low: d ?? 0, mid: e ?? 0, high: f ?? 0 },
          });
          if (!uptake.ok) return;
          const { low, mid, high } = uptake.value;
          expect(low >= 0 && low <= mid && mid > 0 && mid <= high && Number.isFinite(high)).toBe(true);
        },
      ),
      SEED,
    );
  });

  it('wants ten readings', () => {
    const readings = decline(8, 7, 3);
    expect(refused(uptakeFromReadings({ ...SEALED, readings, resolutionMgL: 0.01 }))).toMatchObject({
      because: 'too-few-readings',
      with: { have: 9, need: 10 },
    });
  });

  it('wants a fall that the probe can tell', () => {
    const readings = decline(30, 7, 0.6);
    expect(refused(uptakeFromReadings({ ...SEALED, readings, resolutionMgL: 0.1 }))).toMatchObject({
      because: 'decline-within-resolution',
    });
  });

  it('does not use readings below half of saturation', () => {
    const readings = decline(60, 4, 1);
    expect(refused(uptakeFromReadings({ ...SEALED, readings, resolutionMgL: 0.01 }))).toMatchObject({
      because: 'oxygen-below-half-saturation',
    });
  });

  it('sees no uptake in a tank whose oxygen rises by itself', () => {
    expect(refused(uptakeFromSlope({ ...SEALED, slopeMgLPerH: exactly(0.2), oxygenMgL: 7 }))).toMatchObject({
      because: 'no-uptake-seen',
    });
  });

  it('refuses a range with its ends exchanged', () => {
    const slopeMgLPerH = { low: -0.1, mid: -0.2, high: -0.3 };
    expect(refused(uptakeFromSlope({ ...SEALED, slopeMgLPerH, oxygenMgL: 7 }))).toMatchObject({
      because: 'interval-out-of-order',
    });
  });
});

describe('Measured and published uptake', () => {
  it('takes the measured one', () => {
    const known = answered(chooseUptake({ measured: exactly(0.4), published: withinFactor(0.3, 2) }));
    expect(known).toEqual({ basis: 'measured', mgLPerH: exactly(0.4), disagree: false });
  });

  it('takes the published one until something is measured', () => {
    const known = answered(chooseUptake({ published: withinFactor(0.3, 2) }));
    expect(known).toEqual({ basis: 'published', mgLPerH: { low: 0.15, mid: 0.3, high: 0.6 }, disagree: false });
  });

  it.each([0.95, 0.09])('asks about count, weight and sensor when %d is measured and 0.3 expected', (mgLPerH) => {
    const known = answered(chooseUptake({ measured: exactly(mgLPerH), published: withinFactor(0.3, 2) }));
    expect(known.disagree).toBe(true);
  });

  it('says that it is not known when there is neither', () => {
    expect(refused(chooseUptake({}))).toEqual({ code: 'impossible', because: 'uptake-unknown' });
  });
});
