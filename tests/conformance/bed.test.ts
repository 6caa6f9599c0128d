import { describe, expect, it } from 'vitest';
import type { BedCalibration } from '../../rules/bed/calibration.js';
import { chainOf, oxygenLimitMgL } from '../../rules/bed/chain.js';
import { diffusivityM2PerS, oxygenDiffusivity } from '../../rules/bed/diffusivity.js';
import { forecastThinning } from '../../rules/bed/forecast.js';
import {
  depthFromAreaDemandM,
  depthFromVolumeDemandM,
  isSupplyLimited,
  molM2SFromMmolM2Day,
  oxygenForDepthMolM3,
  poreOxygenS,
  pumpedDepthM,
  responseS,
  volumeDemandMolM3S,
  type Way,
} from '../../rules/bed/layer.js';
import { daysUntilLoad, loadAfterMmolCM2 } from '../../rules/bed/load.js';
import { oxygenPenetration } from '../../rules/bed/penetration.js';
import type { BedSettings, BedWater } from '../../rules/bed/settings.js';
import { tortuositySquared, tortuositySquaredOf } from '../../rules/bed/tortuosity.js';
import { oxygenSolubilityMgL } from '../../rules/seawater/oxygen.js';
import { exactly } from '../../rules/statistics/interval.js';
import { answered, expectWithin } from '../support/answered.js';
import { checkRows } from '../support/check-values.js';

const O2 = 31.9988;
/** Saturated at 20 °C and salinity 35 (Garcia and Gordon 1992 with EOS-80 density), mol/m3: 0.231101 in the tables, rounded. */
const SATURATED = answered(oxygenSolubilityMgL({ salinity: 35, temperatureC: 20 })) / O2;

const way = (changes: Partial<Way> = {}, temperatureC = 20): Way => {
  const waterM2S = diffusivityM2PerS({ temperatureC, salinity: 35 });
  return { porosity: 0.4, transport: 1, waterM2S, poreM2S: waterM2S / tortuositySquaredOf(0.4), filmM: 0, ...changes };
};

describe('Oxygen in the pores of a bed', () => {
  it('spreads as fast as Boudreau 1997 says (R marelac 2.1.11)', () => {
    for (const row of checkRows('bed-and-oxygen/diffusivity.csv')) {
      const water = { temperatureC: row.number('temperatureC'), salinity: row.number('salinity') };
      const { m2PerS, beyondFit } = answered(oxygenDiffusivity(water));
      expectWithin(m2PerS * 1e9, row.number('nanoM2PerS'), 0.000002, row.line);
      expect(beyondFit).toBe(false);
    }
  });

  it('takes a way longer by the tortuosity of Boudreau 1996', () => {
    for (const row of checkRows('bed-and-oxygen/tortuosity.csv'))
      expectWithin(
        answered(tortuositySquared({ porosity: row.number('porosity') })),
        row.number('squared'),
        0.000001,
        row.line,
      );
  });

  it('reaches as deep as the zero-order solution, by area and by volume, with and without a still film', () => {
    for (const row of checkRows('bed-and-oxygen/layer.csv')) {
      const through = way({ transport: row.number('transport'), filmM: row.number('filmMm') / 1000 });
      const depthM =
        row.text('by') === 'area'
          ? depthFromAreaDemandM(through, SATURATED, molM2SFromMmolM2Day(row.number('demand')))
          : depthFromVolumeDemandM(through, SATURATED, row.number('demand'));
      expectWithin(depthM * 1000, row.number('depthMm'), 0.00001, row.line);
    }
  });

  it('lets at most 78.63 mmol/m2/day through a still film of 0.5 mm (computed)', () => {
    const film = way({ filmM: 0.0005 });
    expect(isSupplyLimited(film, SATURATED, molM2SFromMmolM2Day(78.62))).toBe(false);
    expect(isSupplyLimited(film, SATURATED, molM2SFromMmolM2Day(78.64))).toBe(true);
    expect(depthFromAreaDemandM(film, SATURATED, molM2SFromMmolM2Day(78.64))).toBe(0);
  });

  // L^2 / (6 eps Ds), computed.
  it.each([
    [1, 2.220709, 19.70721],
    [1, 0.277589, 0.30793],
    [5, 11.103545, 98.53607],
  ])('follows the water within minutes: transport %d, %d mm, %d min', (transport, depthMm, minutes) => {
    expectWithin(responseS(way({ transport }), depthMm / 1000) / 60, minutes, 0.0001, `${depthMm}`);
  });

  // q C0 / R, computed.
  it.each([
    [1, 0.577778],
    [50, 28.888889],
  ])('is carried down by %d L/m2/h pumped through to %d mm', (flowLM2H, depthMm) => {
    expectWithin(pumpedDepthM(flowLM2H / 3.6e6, 0.208, 1e-4) * 1000, depthMm, 0.00001, `${flowLM2H}`);
  });

  it('lasts about 14 minutes in the pores when that pump stops (computed)', () => {
    expect(poreOxygenS(0.4, 0.208, 1e-4) / 60).toBeCloseTo(13.87, 2);
  });

  it('is shallower in warm water: less oxygen and faster uptake (computed, Q10 2)', () => {
    const depthAt = (temperatureC: number): number => {
      const saturated = answered(oxygenSolubilityMgL({ salinity: 35, temperatureC })) / O2;
      return depthFromVolumeDemandM(way({}, temperatureC), saturated, 1e-4 * 2 ** ((temperatureC - 20) / 10));
    };
    const shares = [0.937743, 0.879601, 0.825389, 0.774959, 0.72819];
    for (const [i, share] of shares.entries())
      expectWithin(depthAt(20 + 2 * i) / depthAt(18), share, 0.00001, `${20 + 2 * i} °C`);
  });
});

const CLEAN: BedSettings = {
  depthM: 0.15,
  porosity: 0.4,
  cleanDemandMmolM2Day: 20,
  q10: 2,
  filmMm: 0.5,
  throughFlowLM2H: 0,
};
const WARM: BedWater = {
  oxygenMgL: 4.660094,
  temperatureC: 26,
  salinity: 35,
  solubilityAt20MgL: SATURATED * O2,
  filmMm: 0.5,
  throughFlowLM2H: 0,
};
// The depths of the last check in terms of the clean depth at 20 °C; no film.
it.each([
  [22, 0.879601],
  [26, 0.774959],
  [28, 0.72819],
])('The share of the clean depth in saturated water at %d °C is that of the computed depths', (temperatureC, to18) => {
  const oxygenMgL = answered(oxygenSolubilityMgL({ salinity: 35, temperatureC }));
  const water = { ...WARM, temperatureC, oxygenMgL, filmMm: 0 };
  const { shareOfClean } = answered(oxygenPenetration({ bed: { ...CLEAN, filmMm: 0 }, water, atMs: 0 }));
  expectWithin(shareOfClean, to18 / 0.937743, 0.00002, `${temperatureC} °C`);
});

const known = (transport: number): BedCalibration => ({
  sight: { kind: 'core', depthMm: 3, atMs: 0 },
  transport,
  pumped: false,
  doubts: [],
});

// Computed; the depth with film also by time-marching of the diffusion equation: 1.594 mm on a grid of 0.012 mm.
describe('The worked bed: demand 20 mmol/m2/day, transport 5, water at 26 °C and 70 %', () => {
  const chain = chainOf(CLEAN, WARM, { transport: 5, demandMmolM2Day: 20 });

  it('has the demand per volume computed, at 20 °C and at 26 °C', () => {
    const at20 = volumeDemandMolM3S(way({ transport: 5 }), SATURATED, molM2SFromMmolM2Day(20));
    expectWithin(at20, 8.339011e-5, 0.000001e-5, 'R at 20 °C');
    expectWithin(molM2SFromMmolM2Day(20) / at20 / 1e-3, 2.775886, 0.00001, 'depth at 20 °C');
    expectWithin(chain.demandMolM3S, 1.263958e-4, 0.000001e-4, 'R at 26 °C');
  });

  it('is oxygenated to 1.598 mm under a film of 0.5 mm, to 1.919 mm without', () => {
    const depthMm = (filmMm: number): number => {
      const water = { ...WARM, filmMm };
      const penetration = answered(oxygenPenetration({ bed: CLEAN, water, calibration: known(5), atMs: 1000 }));
      return penetration.kind === 'calibrated' ? penetration.depthMm.mid : Number.NaN;
    };
    expectWithin(depthMm(0.5), 1.598474, 0.00001, 'with film');
    expectWithin(depthMm(0), 1.919311, 0.00001, 'without film');
  });

  it('is thinner than 1.5 mm below 4.186 mg/L', () => {
    expectWithin(oxygenLimitMgL(chain, 0.0015), 4.186147, 0.0001, 'limit');
  });
});

describe('The worked times', () => {
  it('reaches 0.7 mm after 12.71 h in the sealed tank of the oxygen budget (computed)', () => {
    // Demand so that 10 mmol/m2/day pass at 95 % saturation: the demand at 100 % is larger by 1 / sqrt(0.95).
    const bed = { ...CLEAN, cleanDemandMmolM2Day: 10 / Math.sqrt(0.95), filmMm: 0 };
    const water = { ...WARM, temperatureC: 20, oxygenMgL: 7.025215, filmMm: 0 };
    const outlook = {
      solubilityMgL: 7.394963,
      reaerationPerH: exactly(0),
      exchangePerH: 0,
      inflowOxygenMgL: 0,
      uptakeMgLPerH: exactly(0.30927593),
    };
    const course = { kind: 'budget', outlook } as const;
    const limit = oxygenForDepthMolM3(way(), 0.0007, 1.097238352e-4) * O2;
    expectWithin(limit, 3.09375, 0.0001, 'oxygen at the limit');
    const forecast = answered(
      forecastThinning({ bed, water, calibration: known(1), atMs: 1000, limitDepthMm: 0.7, course }),
    );
    const likely = forecast.kind === 'calibrated' ? forecast.likely : undefined;
    expect(likely).toMatchObject({ kind: 'reaches', first: 'oxygen' });
    if (likely?.kind === 'reaches') expectWithin(likely.hours, 12.711838, 0.001, 'hours');
  });

  // Computed; the area form at 90 % saturation as it stands. Supply 15 mmol C/m2/day, decay 0.16 per day (Giles and Pilditch 2006).
  it.each([
    [1, 0.999319, 0.399728],
    [8, 7.994553, 3.197821],
  ])('thins from clean to loaded, transport %d: %d mm to %d mm', (transport, cleanMm, loadedMm) => {
    const depthMm = (demand: number): number =>
      depthFromAreaDemandM(way({ transport }), 0.9 * SATURATED, molM2SFromMmolM2Day(demand)) * 1000;
    expectWithin(depthMm(10), cleanMm, 0.0001, 'clean');
    expectWithin(depthMm(25), loadedMm, 0.0001, 'loaded');
  });

  it('takes 6.849 days until the load has halved that depth, and settles at 93.75 mmol C/m2', () => {
    const load = { loadMmolCM2: 0, supplyMmolCM2Day: 15, decayPerDay: 0.16 };
    // Half the clean depth of 1 mm is reached when the demand is 19.98632 mmol/m2/day, at 62.4145 mmol C/m2.
    const halfMm = (0.999319 / 0.5) * 10;
    const reach = answered(daysUntilLoad({ ...load, criticalMmolCM2: (halfMm - 10) / 0.16 }));
    if (reach.kind === 'never') throw new Error('never');
    expectWithin(reach.days, 6.849327, 0.001, 'days');
    expectWithin(answered(loadAfterMmolCM2({ ...load, days: 365 })), 93.75, 1e-6, 'steady load');
  });
});

describe('The published bands', () => {
  const depthMm = (transport: number, demand: number): number =>
    depthFromAreaDemandM(way({ transport }, 15), 0.25, molM2SFromMmolM2Day(demand)) * 1000;

  // A band to judge by, not a value: 10 to 60 mm at 8 to 34 mmol/m2/day (Ahmerkamp and others 2017, abstract).
  it('cover sand moved by water at a transport of 40', () => {
    expect(depthMm(40, 20)).toBeGreaterThan(10);
    expect(depthMm(40, 20)).toBeLessThan(60);
  });

  // Revsbech, Jorgensen and Blackburn 1980 (abstract): 1 to 5.5 mm in coastal sediments.
  it('cover still sand at the order of a millimetre', () => {
    expect(depthMm(1, 5)).toBeGreaterThan(1);
    expect(depthMm(1, 5)).toBeLessThan(5.5);
  });
});
