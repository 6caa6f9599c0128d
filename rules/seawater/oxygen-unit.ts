import { type Answer, refuse } from '../answer.js';
import { ok } from '../result.js';
import { eos80DensityKgM3 } from './density.js';
import { OXYGEN_MG_L, outside, type Range, SALINITY, TEMPERATURE_C } from './range.js';
import { IPTS68_PER_ITS90 } from './temperature-scale.js';

/** 31.9988 g/mol. */
export const MG_PER_UMOL = 31.9988e-3;

/** Over 22.3916 L/mol, the volume of a mole of oxygen at 0 °C and one atmosphere (SCOR working group 142): 1.42905. */
export const MG_PER_ML = 31.9988 / 22.3916;

// The ranges of the other two units reach as far as 50 mg/L does in any water that has an answer.
const OXYGEN_ML_L: Range = [0, 35];
const OXYGEN_UMOL_KG: Range = [0, 1600];

/** Oxygen, mg/L, from mL/L (as gas at 0 °C and one atmosphere), 0 to 35 mL/L. Check value: 1 mL/L is 1.42905 mg/L. */
export const oxygenMgLFromMlL = ({ oxygenMlL }: { readonly oxygenMlL: number }): Answer => {
  const refusal = outside('oxygenMlL', oxygenMlL, OXYGEN_ML_L);
  return refusal === undefined ? ok(oxygenMlL * MG_PER_ML) : refuse(refusal);
};

/** Oxygen, mL/L (as gas at 0 °C and one atmosphere), from mg/L, 0 to 50 mg/L. */
export const oxygenMlLFromMgL = ({ oxygenMgL }: { readonly oxygenMgL: number }): Answer => {
  const refusal = outside('oxygenMgL', oxygenMgL, OXYGEN_MG_L);
  return refusal === undefined ? ok(oxygenMgL / MG_PER_ML) : refuse(refusal);
};

type Water = { readonly salinity: number; readonly temperatureC: number };

/**
 * Oxygen, mg/L, from µmol/kg, 0 to 1600 µmol/kg; the water's density (EOS-80) turns kilograms into litres.
 * Check value: 274.610 µmol/kg at salinity 35 and 10 °C is 9.024 mg/L.
 */
export const oxygenMgLFromUmolKg = ({
  oxygenUmolKg,
  salinity,
  temperatureC,
}: Water & { readonly oxygenUmolKg: number }): Answer => {
  const refusal = outside('oxygenUmolKg', oxygenUmolKg, OXYGEN_UMOL_KG) ?? outsideWater(salinity, temperatureC);
  if (refusal !== undefined) return refuse(refusal);
  return ok(oxygenUmolKg * MG_PER_UMOL * kgPerL(salinity, temperatureC));
};

/** Oxygen, µmol/kg, from mg/L: the inverse of the above, 0 to 50 mg/L. */
export const oxygenUmolKgFromMgL = ({
  oxygenMgL,
  salinity,
  temperatureC,
}: Water & { readonly oxygenMgL: number }): Answer => {
  const refusal = outside('oxygenMgL', oxygenMgL, OXYGEN_MG_L) ?? outsideWater(salinity, temperatureC);
  if (refusal !== undefined) return refuse(refusal);
  return ok(oxygenMgL / (MG_PER_UMOL * kgPerL(salinity, temperatureC)));
};

const outsideWater = (salinity: number, temperatureC: number) =>
  outside('salinity', salinity, SALINITY) ?? outside('temperatureC', temperatureC, TEMPERATURE_C);

const kgPerL = (salinity: number, temperatureC: number): number =>
  eos80DensityKgM3({ salinity, ipts68C: temperatureC * IPTS68_PER_ITS90 }) / 1000;
