import { type Answer, impossible, refusalFor, refuse } from '../answer.js';
import { ok } from '../result.js';
import { type ConfidenceInterval, chiSquareCritical95, poissonInterval95, studentT95, Z95 } from './confidence.js';
import { COUNT, type Range, refusalIfBroken, refusalInList } from './range.js';

const DILUTION: Range = [1, 1_000_000];

export type ChamberCount = { readonly cellsMl: number; readonly lowCellsMl: number; readonly highCellsMl: number };

/**
 * Cells per mL from the squares of a counting chamber, with the 95 % interval of the total count.
 * Answers for squares of 0.0001 to 10,000 mm², a depth of 0.001 to 100 mm, a dilution of 1 to a million, and up to 1000
 * whole counts, a million in all.
 * Check values: 46 + 52 + 39 + 55 on 1 mm² squares 0.1 mm deep, 1 in 10: 4.80 million (4.15 to 5.53). Source: chamber
 * geometry from memory; interval Garwood 1936.
 */
export const chamberCount = (chamber: {
  readonly counts: readonly number[];
  readonly squareAreaMm2: number;
  readonly depthMm: number;
  readonly dilutionFactor: number;
}): Answer<ChamberCount> => {
  const { counts, squareAreaMm2, depthMm, dilutionFactor } = chamber;
  const refusal =
    refusalFor(
      { squareAreaMm2, depthMm, dilutionFactor },
      { squareAreaMm2: [0.0001, 10_000], depthMm: [0.001, 100], dilutionFactor: DILUTION },
    ) ?? refusalInCounts(counts);
  if (refusal !== undefined) return refuse(refusal);
  if (counts.length === 0) return impossible('nothing-counted');
  // 1 mm³ is 1 µL: a thousand of them to the millilitre.
  const perCell = (1000 * dilutionFactor) / (counts.length * squareAreaMm2 * depthMm);
  const { low, high } = poissonInterval95(sum(counts));
  return ok({ cellsMl: sum(counts) * perCell, lowCellsMl: low * perCell, highCellsMl: high * perCell });
};

/**
 * Number per mL from random fields of a Sedgewick-Rafter cell (1,000 µL in 1,000 fields), with its 95 % interval.
 * Answers for a whole count of 0 to a million, 1 to 100,000 fields of 0.0001 to 10,000 µL, a dilution of 1 to a million.
 * Check value: 186 in 30 fields of 1 µL: 6,200 (5,341 to 7,158). Source: geometry from memory; interval Garwood 1936.
 */
export const fieldCount = (cell: {
  readonly totalCount: number;
  readonly fieldsCounted: number;
  readonly fieldVolumeUl: number;
  readonly dilutionFactor: number;
}): Answer<{ readonly perMl: number; readonly lowPerMl: number; readonly highPerMl: number }> => {
  const { totalCount, fieldsCounted, fieldVolumeUl, dilutionFactor } = cell;
  const refusal =
    refusalFor(
      { ...cell },
      { totalCount: COUNT, fieldsCounted: [1, 100_000], fieldVolumeUl: [0.0001, 10_000], dilutionFactor: DILUTION },
    ) ?? refusalIfBroken('totalCount', [totalCount]);
  if (refusal !== undefined) return refuse(refusal);
  const perOne = (1000 * dilutionFactor) / (fieldsCounted * fieldVolumeUl);
  const { low, high } = poissonInterval95(totalCount);
  return ok({ perMl: totalCount * perOne, lowPerMl: low * perOne, highPerMl: high * perOne });
};

/**
 * How many to count so that chance alone is within ± this share (0.1 is 10 %) at 95 %. n = (1.96 / share)².
 * Answers for 0.001 to 1.
 * Check value: 384 for 10 %. Source: arithmetic on the Poisson distribution.
 */
export const countNeeded = (wanted: { readonly relativeHalfWidth: number }): Answer => {
  const refusal = refusalFor({ ...wanted }, { relativeHalfWidth: [0.001, 1] });
  return refusal === undefined ? ok((Z95 / wanted.relativeHalfWidth) ** 2) : refuse(refusal);
};

export type ReplicateCount = {
  readonly animals: number;
  /** The wider of the two intervals below. */
  readonly lowAnimals: number;
  readonly highAnimals: number;
  readonly lowByChance: number;
  readonly highByChance: number;
  /** From here on only with two counts or more. */
  readonly lowByReplicates?: number;
  readonly highByReplicates?: number;
  readonly indexOfDispersion?: number;
  readonly chiSquare?: number;
  readonly chiSquareCritical95?: number;
  /** The counts differ more than chance allows: not well mixed. Mix and count again. */
  readonly overdispersed?: boolean;
};

/**
 * Animals in a volume from counted subsamples. Two 95 % intervals: by chance (Poisson on the total) and by the spread of
 * the replicates (t); the wider one is reported, because replicates that agree too well, or a badly mixed vessel, make
 * one of them falsely narrow. A number of animals cannot be below 0, so neither can the low end.
 * Answers for up to 1000 whole counts, a million in all, in 0.0001 to 1e6 mL of a volume of 0.0001 to 1e10 mL.
 * Check value: 76, 56, 84, 82, 96, 87 in 0.2 mL of 3 L: 1.20 million (0.99 to 1.42), overdispersed. Source: an open
 * hatchery notebook of May 2017 for the counts; statistics standard.
 */
export const replicateCount = (sample: {
  readonly counts: readonly number[];
  readonly subsampleMl: number;
  readonly totalVolumeMl: number;
}): Answer<ReplicateCount> => {
  const { counts, subsampleMl, totalVolumeMl } = sample;
  const refusal =
    refusalFor(
      { subsampleMl, totalVolumeMl },
      { subsampleMl: [0.0001, 1_000_000], totalVolumeMl: [0.0001, 10_000_000_000] },
    ) ?? refusalInCounts(counts);
  if (refusal !== undefined) return refuse(refusal);
  if (counts.length === 0) return impossible('nothing-counted');
  if (subsampleMl > totalVolumeMl) return impossible('subsample-exceeds-volume', { subsampleMl, totalVolumeMl });
  const perCount = totalVolumeMl / subsampleMl;
  const mean = sum(counts) / counts.length;
  const chance = scaled(poissonInterval95(sum(counts)), perCount / counts.length);
  const byChance = { animals: mean * perCount, lowByChance: chance.low, highByChance: chance.high };
  if (counts.length === 1) return ok({ ...byChance, lowAnimals: chance.low, highAnimals: chance.high });
  const spread = scaled(replicateInterval95(counts, mean), perCount);
  const wider = spread.high - spread.low > chance.high - chance.low ? spread : chance;
  return ok({
    ...byChance,
    lowAnimals: wider.low,
    highAnimals: wider.high,
    lowByReplicates: spread.low,
    highByReplicates: spread.high,
    ...dispersion(counts, mean),
  });
};

const replicateInterval95 = (counts: readonly number[], mean: number): ConfidenceInterval => {
  const half = studentT95(counts.length - 1) * Math.sqrt(variance(counts, mean) / counts.length);
  return { low: Math.max(0, mean - half), high: mean + half };
};

/** Variance over mean, and its chi-square; without a single animal counted there is nothing to judge. */
const dispersion = (counts: readonly number[], mean: number) => {
  if (mean === 0) return {};
  const indexOfDispersion = variance(counts, mean) / mean;
  const chiSquare = (counts.length - 1) * indexOfDispersion;
  const critical = chiSquareCritical95(counts.length - 1);
  return { indexOfDispersion, chiSquare, chiSquareCritical95: critical, overdispersed: chiSquare > critical };
};

const variance = (counts: readonly number[], mean: number): number =>
  sum(counts.map((count) => (count - mean) ** 2)) / (counts.length - 1);

const scaled = ({ low, high }: ConfidenceInterval, factor: number): ConfidenceInterval => ({
  low: low * factor,
  high: high * factor,
});

/** The interval needs the total of the counts within what can be counted, too. */
const refusalInCounts = (counts: readonly number[]) =>
  refusalInList('count', counts, COUNT) ??
  refusalIfBroken('count', counts) ??
  refusalInList('totalCount', [sum(counts)], COUNT) ??
  refusalInList('numberOfCounts', [counts.length], [0, 1000]);

const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);
