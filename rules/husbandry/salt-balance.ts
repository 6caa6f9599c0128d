import { type Answer, impossible, refusalFor, refuse } from '../answer.js';
import { ok } from '../result.js';
import { type Range, SALINITY } from './range.js';

/**
 * Correcting a tank's salinity by mass: salt is conserved, so nothing here depends on temperature. Masses in kg
 * (litres × density / 1000). A large correction is spread over time; how fast is the hatchery's decision.
 */
const MASS_KG: Range = [0.001, 20_000_000];

/** Reference salinity, g/kg, per unit of practical salinity. Source: TEOS-10 (IOC, SCOR and IAPSO 2010). */
const G_KG_PER_PRACTICAL = 35.165_04 / 35;

type Correction = { readonly tankKg: number; readonly salinity: number; readonly targetSalinity: number };

/**
 * Water of another salinity to add, the tank growing by it: m (S1 − S2)/(S2 − Sw), kg.
 * Answers for 0.001 to 20 million kg and salinity 0 to 50, the target between the two waters.
 * Check value: 1025.906 kg at 36.5 to 35 with fresh water: 43.967 kg. Source: salt balance.
 */
export const waterToAddKg = (tank: Correction & { readonly addedSalinity: number }): Answer => {
  const { tankKg, salinity, targetSalinity, addedSalinity } = tank;
  const refusal = refusalInCorrection(tank) ?? refusalFor({ addedSalinity }, { addedSalinity: SALINITY });
  if (refusal !== undefined) return refuse(refusal);
  const ratio = (salinity - targetSalinity) / (targetSalinity - addedSalinity);
  if (salinity === targetSalinity) return ok(0);
  if (!(ratio > 0 && Number.isFinite(ratio))) return outside(targetSalinity, salinity, addedSalinity);
  return ok(tankKg * ratio);
};

/**
 * Water to take out and replace by another at the same mass: m (S1 − S2)/(S1 − Sw), kg, mixed only after the taking.
 * Answers for the ranges above.
 * Check value: the case above by exchange: 42.161 kg. Source: salt balance.
 */
export const waterToExchangeKg = (tank: Correction & { readonly addedSalinity: number }): Answer => {
  const { tankKg, salinity, targetSalinity, addedSalinity } = tank;
  const refusal = refusalInCorrection(tank) ?? refusalFor({ addedSalinity }, { addedSalinity: SALINITY });
  if (refusal !== undefined) return refuse(refusal);
  if (salinity === targetSalinity) return ok(0);
  const share = (salinity - targetSalinity) / (salinity - addedSalinity);
  if (!(share > 0 && share <= 1)) return outside(targetSalinity, salinity, addedSalinity);
  return ok(tankKg * share);
};

/**
 * Brine of a known strength to add, kg: m (S2 − S1)/(Sb − S2) in g/kg.
 * Answers for 0.001 to 20 million kg, salinity 0 to 50 and brine of 1 to 350 g/kg.
 * Check value: 1020.953 kg at 30 to 33 with 80 g/kg: 65.692 kg. Source: salt balance; g/kg by TEOS-10.
 */
export const brineToAddKg = (tank: Correction & { readonly brineGKg: number }): Answer => {
  const refusal = refusalInCorrection(tank) ?? refusalFor({ brineGKg: tank.brineGKg }, { brineGKg: [1, 350] });
  return refusal === undefined ? saltierToAddKg(tank, tank.brineGKg) : refuse(refusal);
};

/**
 * Dry sea salt to add, kg, from its share of salt (the rest is water).
 * Answers for 0.001 to 20 million kg, salinity 0 to 50 and a share of 0.5 to 1.
 * Check value: the case above with 0.97: 3.285 kg. Source: salt balance. Dissolve it first and add it slowly.
 */
export const drySaltToAddKg = (tank: Correction & { readonly saltFraction: number }): Answer => {
  const { saltFraction } = tank;
  const refusal = refusalInCorrection(tank) ?? refusalFor({ saltFraction }, { saltFraction: [0.5, 1] });
  return refusal === undefined ? saltierToAddKg(tank, 1000 * saltFraction) : refuse(refusal);
};

const saltierToAddKg = ({ tankKg, salinity, targetSalinity }: Correction, addedGKg: number): Answer => {
  const nowGKg = salinity * G_KG_PER_PRACTICAL;
  const targetGKg = targetSalinity * G_KG_PER_PRACTICAL;
  if (targetSalinity < salinity) return impossible('salt-cannot-lower', { salinity, targetSalinity });
  if (addedGKg <= targetGKg) return impossible('brine-too-weak', { brineGKg: addedGKg, targetGKg });
  return ok((tankKg * (targetGKg - nowGKg)) / (addedGKg - targetGKg));
};

/**
 * Salinity of two waters mixed, by mass.
 * Answers for 0.001 to 20 million kg and salinity 0 to 50.
 * Check value: 500 kg at 36 with 120 kg at 28: 34.451613. Source: salt balance.
 */
export const salinityOfMix = (waters: {
  readonly massAKg: number;
  readonly salinityA: number;
  readonly massBKg: number;
  readonly salinityB: number;
}): Answer => {
  const { massAKg, salinityA, massBKg, salinityB } = waters;
  const refusal = refusalFor(
    { massAKg, salinityA, massBKg, salinityB },
    { massAKg: MASS_KG, salinityA: SALINITY, massBKg: MASS_KG, salinityB: SALINITY },
  );
  if (refusal !== undefined) return refuse(refusal);
  return ok((massAKg * salinityA + massBKg * salinityB) / (massAKg + massBKg));
};

/**
 * Water that evaporated since a tank was filled, from its salinity: m (1 − S0/S1), kg.
 * Answers for 0.001 to 20 million kg, salinity 0 to 50 when filled and 0.001 to 50 now.
 * Check value: 1023.236 kg filled at 33, now 34.2: 35.903 kg. Source: salt balance.
 */
export const waterEvaporatedKg = (tank: {
  readonly filledKg: number;
  readonly filledSalinity: number;
  readonly salinity: number;
}): Answer => {
  const { filledKg, filledSalinity, salinity } = tank;
  const refusal = refusalFor(
    { filledKg, filledSalinity, salinity },
    { filledKg: MASS_KG, filledSalinity: SALINITY, salinity: [0.001, SALINITY[1]] },
  );
  if (refusal !== undefined) return refuse(refusal);
  if (salinity < filledSalinity) return impossible('fresher-than-filled', { salinity, filledSalinity });
  return ok(filledKg * (1 - filledSalinity / salinity));
};

const refusalInCorrection = ({ tankKg, salinity, targetSalinity }: Correction) =>
  refusalFor({ tankKg, salinity, targetSalinity }, { tankKg: MASS_KG, salinity: SALINITY, targetSalinity: SALINITY });

const outside = (targetSalinity: number, firstSalinity: number, secondSalinity: number) =>
  impossible('target-not-between', { targetSalinity, firstSalinity, secondSalinity });
