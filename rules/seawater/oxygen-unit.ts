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

/**
 * Oxygen, mg/L, from mL/L (as gas at 0 °C and one atmosphere). Answers for 0 to 35 mL/L.
 * Source: SCOR working group 142. Check value: 1 mL/L is 1.42905 mg/L.
 */
export const oxygenMgLFromMlL = ({ oxygenMlL }: { readonly oxygenMlL: number }): Answer => {
  const refusal = outside('oxygenMlL', oxygenMlL, OXYGEN_ML_L);
  return refusal === undefined ? ok(oxygenMlL * MG_PER_ML) : refuse(refusal);
};

/**
 * Oxygen, mL/L (as gas at 0 °C and one atmosphere), from mg/L. Answers for 0 to 50 mg/L.
 * Source: SCOR working group 142. Check value: 7 mg/L is 4.89835 mL/L.
 */
export const oxygenMlLFromMgL = ({ oxygenMgL }: { readonly oxygenMgL: number }): Answer => {
  const refusal = outside('oxygenMgL', oxygenMgL, OXYGEN_MG_L);
  return refusal === undefined ? ok(oxygenMgL / MG_PER_ML) : refuse(refusal);
};

type Water = { readonly salinity: number; readonly temperatureC: number };

/**
 * Oxygen, mg/L, from µmol/kg; the water's density turns kilograms into litres.
 * Answers for 0 to 1600 µmol/kg, salinity 0 to 50 and -2 to 45 °C. Source: 31.9988 g/mol and the density of EOS-80.
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

/**
 * Oxygen, µmol/kg, from mg/L: the inverse of the above. Answers for 0 to 50 mg/L, salinity 0 to 50 and -2 to 45 °C.
 * Source: as above. Check value: 9.024 mg/L at salinity 35 and 10 °C is 274.609 µmol/kg.
 */
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
