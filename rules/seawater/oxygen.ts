import { type Answer, type Refusal, refuse } from '../answer.js';
import { ok } from '../result.js';
import { eos80DensityKgM3 } from './density.js';
import { MG_PER_UMOL } from './oxygen-unit.js';
import {
  AIR_PRESSURE_KPA,
  ATMOSPHERE_KPA,
  OXYGEN_MG_L,
  outside,
  type Range,
  SALINITY,
  TEMPERATURE_C,
} from './range.js';
import { IPTS68_PER_ITS90 } from './temperature-scale.js';
import { weissPriceAtm } from './vapour-pressure.js';

/** Water in balance with moist air. `pressureKpa` is the air pressure on site; left out, one standard atmosphere. */
export type AiredWater = {
  readonly salinity: number;
  readonly temperatureC: number;
  readonly pressureKpa?: number | undefined;
};

/** Algae in the light and pumped air do pass 100 %; above 300 % it is the probe (common practice, no source). */
export const SATURATION_PCT: Range = [0, 300];

/**
 * Oxygen at saturation, µmol/kg, from practical salinity, °C (ITS-90) and air pressure in kPa.
 * Answers for salinity 0 to 50, -2 to 45 °C, 50.6625 to 111.4575 kPa; fitted for 0 to 42 and 0 to 40 °C.
 * Source: Garcia and Gordon 1992, Limnology and Oceanography 37:1307, with the coefficients fitted to Benson and Krause;
 * pressure by (P - pw) / (1 - pw) in atmospheres with the vapour pressure of Weiss and Price 1980.
 * Check value: salinity 35 at 10 °C (t68) and one atmosphere 274.610.
 */
export const oxygenSolubilityUmolKg = ({
  salinity,
  temperatureC,
  pressureKpa = ATMOSPHERE_KPA,
}: AiredWater): Answer => {
  const refusal = outsideAiredWater(salinity, temperatureC, pressureKpa);
  if (refusal !== undefined) return refuse(refusal);
  return ok(solubilityUmolKg({ salinity, temperatureC, pressureKpa }));
};

/**
 * Oxygen at saturation, mg/L. Answers for the ranges above.
 * Sources: as above, with the density of EOS-80 and 31.9988 g/mol.
 * Check value: fresh water at 20 °C and one atmosphere 9.092 (APHA Standard Methods 4500-O; from memory), within 0.002.
 */
export const oxygenSolubilityMgL = ({ salinity, temperatureC, pressureKpa = ATMOSPHERE_KPA }: AiredWater): Answer => {
  const refusal = outsideAiredWater(salinity, temperatureC, pressureKpa);
  if (refusal !== undefined) return refuse(refusal);
  return ok(solubilityMgL({ salinity, temperatureC, pressureKpa }));
};

/**
 * Oxygen saturation, %, from mg/L. Answers for 0 to 50 mg/L, the ranges above, and a result of 0 to 300 %.
 * Source: solubility as above. Check value: 7 mg/L at salinity 35, 20 °C and one atmosphere is 94.6590 %.
 */
export const oxygenSaturationPct = ({
  oxygenMgL,
  salinity,
  temperatureC,
  pressureKpa = ATMOSPHERE_KPA,
}: AiredWater & { readonly oxygenMgL: number }): Answer => {
  const refusal =
    outside('oxygenMgL', oxygenMgL, OXYGEN_MG_L) ?? outsideAiredWater(salinity, temperatureC, pressureKpa);
  if (refusal !== undefined) return refuse(refusal);
  const saturationPct = (100 * oxygenMgL) / solubilityMgL({ salinity, temperatureC, pressureKpa });
  const beyond = outside('saturationPct', saturationPct, SATURATION_PCT);
  return beyond === undefined ? ok(saturationPct) : refuse(beyond);
};

/**
 * Oxygen, mg/L, from saturation in %: the inverse of the above. Answers for 0 to 300 % and the ranges above.
 * Source: solubility as above. Check value: 70 % at salinity 30, 24 °C and one atmosphere is 4.962 mg/L.
 */
export const oxygenMgLFromSaturation = ({
  saturationPct,
  salinity,
  temperatureC,
  pressureKpa = ATMOSPHERE_KPA,
}: AiredWater & { readonly saturationPct: number }): Answer => {
  const refusal =
    outside('saturationPct', saturationPct, SATURATION_PCT) ?? outsideAiredWater(salinity, temperatureC, pressureKpa);
  if (refusal !== undefined) return refuse(refusal);
  return ok((saturationPct / 100) * solubilityMgL({ salinity, temperatureC, pressureKpa }));
};

/** The first of the three that is out of range, as a refusal. */
const outsideAiredWater = (salinity: number, temperatureC: number, pressureKpa: number): Refusal | undefined =>
  outside('salinity', salinity, SALINITY) ??
  outside('temperatureC', temperatureC, TEMPERATURE_C) ??
  outside('pressureKpa', pressureKpa, AIR_PRESSURE_KPA);

/**
 * The bare product, mg/L, for callers that have already refused what is out of range.
 * Source: as above. Check value: salinity 35 at 20 °C and one atmosphere is 7.394963.
 */
export const solubilityMgL = ({ salinity, temperatureC, pressureKpa }: WaterUnderAir): number => {
  const ipts68C = temperatureC * IPTS68_PER_ITS90;
  const kgPerL = eos80DensityKgM3({ salinity, ipts68C }) / 1000;
  return solubilityUmolKg({ salinity, temperatureC, pressureKpa }) * kgPerL * MG_PER_UMOL;
};

type WaterUnderAir = { readonly salinity: number; readonly temperatureC: number; readonly pressureKpa: number };

const solubilityUmolKg = ({ salinity, temperatureC, pressureKpa }: WaterUnderAir): number => {
  const ipts68C = temperatureC * IPTS68_PER_ITS90;
  const vapour = weissPriceAtm({ salinity, ipts68C });
  return garciaGordonUmolKg({ salinity, ipts68C }) * ((pressureKpa / ATMOSPHERE_KPA - vapour) / (1 - vapour));
};

/**
 * At one atmosphere. These are the coefficients fitted to Benson and Krause's own measurements, in µmol/kg; the paper's
 * other set, fitted to several laboratories together, gives 274.646 for the check value above.
 */
const garciaGordonUmolKg = ({
  salinity: s,
  ipts68C,
}: {
  readonly salinity: number;
  readonly ipts68C: number;
}): number => {
  const ts = Math.log((298.15 - ipts68C) / (273.15 + ipts68C));
  const freshWater = 5.80871 + ts * (3.20291 + ts * (4.17887 + ts * (5.10006 + ts * (-9.86643e-2 + ts * 3.80369))));
  const perSalt = -7.01577e-3 + ts * (-7.70028e-3 + ts * (-1.13864e-2 - ts * 9.51519e-3));
  return Math.exp(freshWater + s * (perSalt - s * 2.75915e-7));
};
