import { type Answer, impossible, refusalFor, refuse } from '../answer.js';
import { ok } from '../result.js';
import { type Range, VOLUME_L } from './range.js';

const DENSITY: Range = [0, 1_000_000];

/**
 * Animals and litres of suspension that stock a tank at a density per mL.
 * Answers for 0 to a million per mL, 0.001 to 10 million L and a suspension of 0.001 to 1e9 per mL, no thinner than the
 * target.
 * Check value: 8 per mL in 5,000 L from 520 per mL: 40 million, 76.9 L. Source: arithmetic.
 */
export const stockByVolume = (tank: {
  readonly targetPerMl: number;
  readonly tankVolumeL: number;
  readonly suspensionPerMl: number;
}): Answer<{ readonly animals: number; readonly suspensionVolumeL: number }> => {
  const { targetPerMl, tankVolumeL, suspensionPerMl } = tank;
  const refusal = refusalFor(
    { targetPerMl, tankVolumeL, suspensionPerMl },
    { targetPerMl: DENSITY, tankVolumeL: VOLUME_L, suspensionPerMl: [0.001, 1e9] },
  );
  if (refusal !== undefined) return refuse(refusal);
  if (suspensionPerMl < targetPerMl) return impossible('suspension-too-thin', { suspensionPerMl, targetPerMl });
  const animals = targetPerMl * tankVolumeL * 1000;
  return ok({ animals, suspensionVolumeL: animals / suspensionPerMl / 1000 });
};

/**
 * Animals on a round screen at a density per cm².
 * Answers for 0.01 to 10,000 cm and 0 to a million per cm².
 * Check value: 46 cm across at 100 per cm²: 1,662 cm², 166,190. Source: arithmetic.
 */
export const stockByArea = (screen: {
  readonly diameterCm: number;
  readonly targetPerCm2: number;
}): Answer<{ readonly areaCm2: number; readonly animals: number }> => {
  const { diameterCm, targetPerCm2 } = screen;
  const refusal = refusalFor({ diameterCm, targetPerCm2 }, { diameterCm: [0.01, 10_000], targetPerCm2: DENSITY });
  if (refusal !== undefined) return refuse(refusal);
  const areaCm2 = (Math.PI * diameterCm ** 2) / 4;
  return ok({ areaCm2, animals: areaCm2 * targetPerCm2 });
};

/**
 * Number of seed from a weighed and counted subsample.
 * Answers for 0 to 1e9 g in all, 0.00001 to a million g in the subsample and 1 to 10 million counted.
 * Check value: 412 in 1.53 g, 842 g in all: 3.71 mg each, 226,735. Source: arithmetic.
 */
export const seedByWeight = (seed: {
  readonly totalDrainedG: number;
  readonly sampleG: number;
  readonly sampleCount: number;
}): Answer<{ readonly meanMg: number; readonly animals: number }> => {
  const { totalDrainedG, sampleG, sampleCount } = seed;
  const refusal = refusalFor(
    { totalDrainedG, sampleG, sampleCount },
    { totalDrainedG: [0, 1e9], sampleG: [0.000_01, 1_000_000], sampleCount: [1, 10_000_000] },
  );
  if (refusal !== undefined) return refuse(refusal);
  if (sampleG > totalDrainedG) return impossible('sample-exceeds-total', { sampleG, totalDrainedG });
  const meanG = sampleG / sampleCount;
  return ok({ meanMg: meanG * 1000, animals: totalDrainedG / meanG });
};

/**
 * Millilitres of a disinfectant's stock for a dose in mg/L. For tanks and water without animals; no dose is advised here.
 * Answers for 0 to a million mg/L, 0.001 to 10 million L and a stock of 0.001 to 3000 g/L, stronger than the dose.
 * Check value: 5 mg/L in 1,000 L from 125 g/L: 40 mL. Source: arithmetic.
 */
export const disinfectantMl = (dose: {
  readonly targetMgL: number;
  readonly volumeL: number;
  readonly stockGL: number;
}): Answer => {
  const { targetMgL, volumeL, stockGL } = dose;
  const refusal = refusalFor(
    { targetMgL, volumeL, stockGL },
    { targetMgL: [0, 1_000_000], volumeL: VOLUME_L, stockGL: [0.001, 3000] },
  );
  if (refusal !== undefined) return refuse(refusal);
  if (stockGL * 1000 <= targetMgL) return impossible('stock-too-weak', { stockGL, targetMgL });
  return ok((targetMgL * volumeL) / stockGL);
};
