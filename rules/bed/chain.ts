import { q10Factor } from '../statistics/temperature-response.js';
import { diffusivityM2PerS } from './diffusivity.js';
import {
  depthFromVolumeDemandM,
  MG_PER_MMOL_O2,
  molM2SFromMmolM2Day,
  oxygenForDepthMolM3,
  pumpedDepthM,
  volumeDemandMolM3S,
  type Way,
} from './layer.js';
import { loadAfter, type OrganicLoad } from './load.js';
import type { BedSettings, BedWater } from './settings.js';
import { tortuositySquaredOf } from './tortuosity.js';

/**
 * From bed and water to a depth, in SI units, for numbers already checked.
 *
 * The demand per area in saturated water at 20 °C is turned into a demand per volume, which belongs to the bed; that one
 * follows temperature, and meets the water as it is now. Demand per area does not: it falls with the oxygen of the water.
 *
 * Every depth below is in proportion to the transport. So one sight of the true layer gives the transport, and the share
 * of the clean depth does not depend on it.
 */
export type Chain = {
  readonly way: Way;
  readonly oxygenMolM3: number;
  readonly throughFlowM3M2S: number;
  readonly demandMolM3S: number;
};

const atTransport = (bed: BedSettings, water: BedWater, transport: number): Way => {
  const waterM2S = diffusivityM2PerS(water);
  const poreM2S = waterM2S / tortuositySquaredOf(bed.porosity);
  return { porosity: bed.porosity, transport, waterM2S, poreM2S, filmM: water.filmMm / 1000 };
};

/**
 * A bed under its water at one transport and one demand, mmol/m2/day in saturated water at 20 °C, all already checked.
 * Source: layer.ts, the demand by Q10. Check: demand 20, porosity 0.40, transport 5, salinity 35, Q10 2: 1.263958e-4
 * mol/m3/s at 26 °C.
 */
export const chainOf = (
  bed: BedSettings,
  water: BedWater,
  { transport, demandMmolM2Day }: { readonly transport: number; readonly demandMmolM2Day: number },
): Chain => {
  const saturatedMolM3 = water.solubilityAt20MgL / MG_PER_MMOL_O2;
  const demand20 = volumeDemandMolM3S(
    atTransport(bed, { ...water, temperatureC: 20 }, transport),
    saturatedMolM3,
    molM2SFromMmolM2Day(demandMmolM2Day),
  );
  return {
    way: atTransport(bed, water, transport),
    oxygenMolM3: water.oxygenMgL / MG_PER_MMOL_O2,
    throughFlowM3M2S: water.throughFlowLM2H / 1000 / 3600,
    demandMolM3S: demand20 * q10Factor(bed.q10, 20, water.temperatureC),
  };
};

/**
 * Depth, m, without regard to where the bed ends.
 * Of diffusion and pumped flow the deeper: together they reach at least that far.
 * Source: layer.ts. Check: that bed under a film of 0.5 mm and 4.660094 mg/L: 1.598474e-3.
 */
export const depthOfChainM = ({ way, oxygenMolM3, throughFlowM3M2S, demandMolM3S }: Chain): number =>
  Math.max(
    depthFromVolumeDemandM(way, oxygenMolM3, demandMolM3S),
    pumpedDepthM(throughFlowM3M2S, oxygenMolM3, demandMolM3S),
  );

/**
 * The oxygen of the water, mg/L, below which the layer is thinner than a depth in m.
 * Source: layer.ts. Check: that bed, 1.5e-3 m: 4.186147.
 */
export const oxygenLimitMgL = ({ way, throughFlowM3M2S, demandMolM3S }: Chain, depthM: number): number => {
  const byDiffusion = oxygenForDepthMolM3(way, depthM, demandMolM3S);
  const byFlow = throughFlowM3M2S === 0 ? byDiffusion : (demandMolM3S * depthM) / throughFlowM3M2S;
  return Math.min(byDiffusion, byFlow) * MG_PER_MMOL_O2;
};

/**
 * How many times the demand per volume may grow until the layer is no thicker than a depth in m: its oxygen limit is in
 * proportion to the demand, so it is the oxygen there is over that limit.
 * Source: layer.ts. Check: that bed, 1.5e-3 m: 1.113218.
 */
export const demandRoom = (chain: Chain, depthM: number): number =>
  (chain.oxygenMolM3 * MG_PER_MMOL_O2) / oxygenLimitMgL(chain, depthM);

/**
 * Load on the bed now, with the decay at the temperature of the water now for the whole time since the cleaning.
 * Source: mass balance of load.ts, the decay by Q10.
 * Check: supply 15, decay 0.16, none left 7 days ago, Q10 2, 26 °C: 50.5255 mmol C/m2.
 */
export const loadOf = (bed: BedSettings, water: BedWater): OrganicLoad | undefined => {
  const { waste } = bed;
  if (waste === undefined) return undefined;
  const decayPerDay = waste.decayPerDay20 * q10Factor(bed.q10, 20, water.temperatureC);
  const cleaned = { loadMmolCM2: waste.leftByCleaningMmolCM2, supplyMmolCM2Day: waste.supplyMmolCM2Day, decayPerDay };
  return { ...cleaned, loadMmolCM2: loadAfter(cleaned, water.daysSinceCleaning ?? 0) };
};

/**
 * Demand of the bed with a load on it, in saturated water at 20 °C: clean + rho k W, mmol/m2/day.
 * Source: mass balance. Check: clean 10, decay 0.16, 1 of oxygen for each carbon, load 93.75: 25.
 */
export const demandWithLoad = ({ cleanDemandMmolM2Day, waste }: BedSettings, loadMmolCM2: number): number =>
  waste === undefined
    ? cleanDemandMmolM2Day
    : cleanDemandMmolM2Day + waste.oxygenPerCarbon * waste.decayPerDay20 * loadMmolCM2;

/**
 * The load at which the demand is this, mmol C/m2: the inverse of the above.
 * Source: mass balance. Check: the same bed, demand 25: 93.75.
 */
export const loadForDemand = ({ cleanDemandMmolM2Day }: BedSettings, waste: Waste, demandMmolM2Day: number): number =>
  (demandMmolM2Day - cleanDemandMmolM2Day) / (waste.oxygenPerCarbon * waste.decayPerDay20);

type Waste = NonNullable<BedSettings['waste']>;
