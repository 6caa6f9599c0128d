/**
 * The oxygenated layer of a bed as arithmetic, in SI units (m, m2/s, mol/m3, mol/m2/s), for numbers already checked.
 * Demand constant with depth (zero order, as in Bouldin 1968: formula from memory, checked against a numerical solution);
 * steady; no light, burrows or siphons. In still sand it is about a millimetre thick.
 */

/** mol/m3 of oxygen are mmol/L; 31.9988 mg each. */
export const MG_PER_MMOL_O2 = 31.9988;

const SECONDS_PER_DAY = 86_400;
/** mmol/m2/day as mol/m2/s. Source: arithmetic. Check: 86.4 is 1e-6. */
export const molM2SFromMmolM2Day = (mmolM2Day: number): number => mmolM2Day / 1000 / SECONDS_PER_DAY;

/** What oxygen meets on its way down. */
export type Way = {
  readonly porosity: number;
  /** 1 is molecular diffusion; water moving through the pores makes it more. */
  readonly transport: number;
  /** Diffusivity in the water, and in the pores: the first over tortuosity squared. */
  readonly waterM2S: number;
  readonly poreM2S: number;
  /** Still film of water over the bed. */
  readonly filmM: number;
};

/** phi eps Ds: what a gradient carries through the bed. */
const carried = ({ porosity, transport, poreM2S }: Way): number => porosity * transport * poreM2S;

/** The film's share, as a length: a = phi eps Ds delta / D. */
const filmLengthM = (way: Way): number => (carried(way) * way.filmM) / way.waterM2S;

/**
 * Depth, m, from demand per area: 2 phi eps Ds C0 / J, C0 under the film. Nothing when the film lets less through.
 * Source: Bouldin 1968 (from memory), the form by area confirmed by Cai and Sayles 1996 (abstract).
 * Check: porosity 0.40, 20 °C, salinity 35, 0.231101 mol/m3, transport 1, 10 mmol/m2/day: 1.11035 mm.
 */
export const depthFromAreaDemandM = (way: Way, oxygenMolM3: number, demandMolM2S: number): number =>
  Math.max(0, (2 * carried(way) * (oxygenMolM3 - (demandMolM2S * way.filmM) / way.waterM2S)) / demandMolM2S);

/**
 * True when the film eats all the oxygen: the demand is more than D C / delta can bring.
 * Source: Fick's law. Check: 0.5 mm, 20 °C, salinity 35, saturated: from 78.63 mmol/m2/day on.
 */
export const isSupplyLimited = (way: Way, oxygenMolM3: number, demandMolM2S: number): boolean =>
  demandMolM2S * way.filmM >= oxygenMolM3 * way.waterM2S;

/**
 * Depth, m, from demand per bulk volume: -a + sqrt(a^2 + 2 phi eps Ds Cw / R).
 * Source: Bouldin 1968 (from memory), the film by Fick's law.
 * Check: the case of the demand per area, 1.042376434e-4 mol/m3/s: 1.11035 mm.
 */
export const depthFromVolumeDemandM = (way: Way, oxygenMolM3: number, demandMolM3S: number): number => {
  const reach = (2 * carried(way) * oxygenMolM3) / demandMolM3S;
  const a = filmLengthM(way);
  // The same as -a + sqrt(a^2 + reach), without the loss of digits when the film rules.
  return reach === 0 ? 0 : reach / (a + Math.sqrt(a * a + reach));
};

/**
 * Demand per volume, mol/m3/s, of a bed whose demand per area is known in water of that oxygen without a film: J^2 / (2
 * phi eps Ds C0).
 * Source: the two forms above put equal. Check: the same water, transport 5, 20 mmol/m2/day: 8.33901e-5.
 */
export const volumeDemandMolM3S = (way: Way, oxygenMolM3: number, demandMolM2S: number): number =>
  demandMolM2S ** 2 / (2 * carried(way) * oxygenMolM3);

/**
 * The oxygen in the water at which the layer is just this deep: R (L^2 + 2 a L) / (2 phi eps Ds), mol/m3.
 * Source: the form by volume, turned round.
 * Check: the same bed, transport 1, no film, 1.097238352e-4 mol/m3/s, 0.7 mm: 0.0966833.
 */
export const oxygenForDepthMolM3 = (way: Way, depthM: number, demandMolM3S: number): number =>
  (demandMolM3S * (depthM ** 2 + 2 * filmLengthM(way) * depthM)) / (2 * carried(way));

/**
 * Depth, m, when water is pumped through the bed: q C0 / R, q in m3/m2/s.
 * Source: mass balance. Check: 50 L/m2/h, 0.208 mol/m3, 1e-4 mol/m3/s: 28.8889 mm.
 */
export const pumpedDepthM = (flowM3M2S: number, oxygenMolM3: number, demandMolM3S: number): number =>
  (flowM3M2S * oxygenMolM3) / demandMolM3S;

/**
 * When the pump stops: about how long the oxygen in the pores lasts, s.
 * Source: mass balance. Check: porosity 0.40, 0.208 mol/m3, 1e-4 mol/m3/s: 832 s, 14 minutes.
 */
export const poreOxygenS = (porosity: number, oxygenMolM3: number, demandMolM3S: number): number =>
  (porosity * oxygenMolM3) / demandMolM3S;

/**
 * About how long the layer takes to follow a change of the water, s: L^2 / (6 eps Ds). Minutes: it does not buffer.
 * Source: from memory, an order of magnitude.
 * Check: porosity 0.40, 20 °C, salinity 35, transport 1, 2.220709 mm: 1182.4 s.
 */
export const responseS = ({ transport, poreM2S }: Way, depthM: number): number =>
  depthM ** 2 / (6 * transport * poreM2S);
