import { type Answer, impossible, refusalFor, refuse } from '../answer.js';
import { ok } from '../result.js';
import { ANIMALS, CELLS_ML, refusalInList, SOME_CELLS_ML, VOLUME_L } from './range.js';

const TANK = { tankVolumeL: VOLUME_L, targetCellsMl: CELLS_ML, residualCellsMl: CELLS_ML, stockCellsMl: SOME_CELLS_ML };

export type FeedVolumeOptions = {
  readonly tankVolumeL: number;
  readonly targetCellsMl: number;
  readonly residualCellsMl: number;
  readonly stockCellsMl: number;
};

/**
 * Litres of one algae culture that bring a tank from its residual to the target, the added water counted.
 * L = V (target − residual) / (stock − target). A residual above the target needs 0 L: worth a look, they may have
 * stopped feeding.
 * Answers for 0.001 to 10 million L, 0 to 1e10 cells/mL in the tank and a culture of 0.001 to 1e11 cells/mL, richer
 * than the target.
 * Check value: 1,000 L, 12,000 to 50,000 cells/mL, stock 6 million: 6.387 L. Source: arithmetic.
 */
export const feedVolumeL = (feed: FeedVolumeOptions): Answer => {
  const refusal = refusalFor({ ...feed }, TANK);
  if (refusal !== undefined) return refuse(refusal);
  const { tankVolumeL, targetCellsMl, residualCellsMl, stockCellsMl } = feed;
  if (residualCellsMl >= targetCellsMl) return ok(0);
  if (stockCellsMl <= targetCellsMl) return impossible('culture-too-thin', { stockCellsMl, targetCellsMl });
  return ok((tankVolumeL * (targetCellsMl - residualCellsMl)) / (stockCellsMl - targetCellsMl));
};

/**
 * The same as most bench sheets have it, the added water neglected: L = V (target − residual) / stock.
 * Too small by the share target / stock.
 * Answers for the ranges above.
 * Check value: 6.333 L for the case above. Source: arithmetic.
 */
export const feedVolumeOnBenchSheetL = (feed: FeedVolumeOptions): Answer => {
  const exact = feedVolumeL(feed);
  if (!exact.ok) return exact;
  return ok((exact.value * (feed.stockCellsMl - feed.targetCellsMl)) / feed.stockCellsMl);
};

export type Alga = {
  readonly shareOfEquivalents: number;
  readonly equivalentsPerCell: number;
  readonly stockCellsMl: number;
};
export type MixedFeedOptions = {
  readonly tankVolumeL: number;
  readonly targetEquivalentsMl: number;
  readonly residualEquivalentsMl: number;
  readonly algae: readonly Alga[];
};
export type MixedFeed = {
  readonly algae: readonly { readonly cells: number; readonly feedVolumeL: number }[];
  readonly totalFeedVolumeL: number;
};

/**
 * Litres of each of several cultures, shares by equivalents (cells of a small flagellate of the same organic weight);
 * the added water neglected, as bench sheets do.
 * Answers for 0.001 to 10 million L, 0 to 1e10 equivalents/mL, shares that add up to 1, 0.001 to 1000 equivalents per
 * cell and cultures of 0.001 to 1e11 cells/mL, richer than the target.
 * Check value: 2,000 L, 60,000 equivalents/mL as 50:30:20 from cultures of 8, 4 and 1 million with 1, 1.4 and 10
 * equivalents per cell: 7.5 + 6.43 + 2.4 L. Source: arithmetic; the equivalents per cell are the hatchery's own.
 */
export const mixedFeed = (feed: MixedFeedOptions): Answer<MixedFeed> => {
  const { tankVolumeL, targetEquivalentsMl, residualEquivalentsMl, algae } = feed;
  const refusal =
    refusalFor(
      { tankVolumeL, targetEquivalentsMl, residualEquivalentsMl },
      { tankVolumeL: VOLUME_L, targetEquivalentsMl: CELLS_ML, residualEquivalentsMl: CELLS_ML },
    ) ?? refusalInAlgae(algae);
  if (refusal !== undefined) return refuse(refusal);
  const shareSum = sum(algae.map((alga) => alga.shareOfEquivalents));
  if (Math.abs(shareSum - 1) > 1e-6) return impossible('shares-not-one', { shareSum });
  const equivalents = Math.max(0, targetEquivalentsMl - residualEquivalentsMl) * tankVolumeL * 1000;
  if (equivalents > 0 && thinnest(algae) <= targetEquivalentsMl) {
    return impossible('culture-too-thin', { stockCellsMl: thinnest(algae), targetCellsMl: targetEquivalentsMl });
  }
  const portions = algae.map(({ shareOfEquivalents, equivalentsPerCell, stockCellsMl }) => {
    const cells = (equivalents * shareOfEquivalents) / equivalentsPerCell;
    return { cells, feedVolumeL: cells / stockCellsMl / 1000 };
  });
  return ok({ algae: portions, totalFeedVolumeL: sum(portions.map((portion) => portion.feedVolumeL)) });
};

const refusalInAlgae = (algae: readonly Alga[]) =>
  refusalInList(
    'shareOfEquivalents',
    algae.map((alga) => alga.shareOfEquivalents),
    [0, 1],
  ) ??
  refusalInList(
    'equivalentsPerCell',
    algae.map((alga) => alga.equivalentsPerCell),
    [0.001, 1000],
  ) ??
  refusalInList(
    'stockCellsMl',
    algae.map((alga) => alga.stockCellsMl),
    SOME_CELLS_ML,
  );

/** In equivalents: a culture no richer than the target cannot bring the tank to it. */
const thinnest = (algae: readonly Alga[]): number =>
  Math.min(
    ...algae.filter((alga) => alga.shareOfEquivalents > 0).map((alga) => alga.stockCellsMl * alga.equivalentsPerCell),
  );

const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);

export type AlgaCount = { readonly cellsMl: number; readonly equivalentsPerCell: number };

/**
 * Equivalents per mL left in a tank, from a count of each alga.
 * Answers for 0 to 1e10 cells/mL and 0.001 to 1000 equivalents per cell.
 * Check value: 9,000 × 1 + 2,500 × 1.4 + 750 × 10 = 20,000. Source: arithmetic.
 */
export const residualEquivalentsMl = ({ counts }: { readonly counts: readonly AlgaCount[] }): Answer => {
  const refusal =
    refusalInList(
      'cellsMl',
      counts.map((count) => count.cellsMl),
      CELLS_ML,
    ) ??
    refusalInList(
      'equivalentsPerCell',
      counts.map((count) => count.equivalentsPerCell),
      [0.001, 1000],
    );
  if (refusal !== undefined) return refuse(refusal);
  if (counts.length === 0) return impossible('nothing-counted');
  return ok(sum(counts.map((count) => count.cellsMl * count.equivalentsPerCell)));
};

export type RationOptions = {
  readonly animals: number;
  readonly dryMeatGPerAnimal: number;
  readonly rationPctPerDay: number;
  readonly dryWeightPgPerCell: number;
  readonly stockCellsMl: number;
};
export type Ration = {
  readonly algaeDryGPerDay: number;
  readonly cellsPerDay: number;
  readonly feedVolumeLPerDay: number;
};

/**
 * A day's algae for broodstock, as a share of their dry meat.
 * Answers for 1 to 1e12 animals of 0.000001 to 10,000 g, 0 to 100 % a day, 0.01 to 1e6 pg per cell and a culture of
 * 0.001 to 1e11 cells/mL.
 * Check value: 40 animals of 0.75 g at 3 %, 200 pg per cell, stock of a million: 0.9 g, 4.5e9 cells, 4.5 L. Source: FAO
 * Fisheries Technical Paper 471, 4.1.2 (3 % of 0.75 g is 0.0225 g), read in a quotation.
 */
export const conditioningRation = (ration: RationOptions): Answer<Ration> => {
  const refusal = refusalFor(
    { ...ration },
    {
      animals: ANIMALS,
      dryMeatGPerAnimal: [0.000_001, 10_000],
      rationPctPerDay: [0, 100],
      dryWeightPgPerCell: [0.01, 1_000_000],
      stockCellsMl: SOME_CELLS_ML,
    },
  );
  if (refusal !== undefined) return refuse(refusal);
  const algaeDryGPerDay = (ration.animals * ration.dryMeatGPerAnimal * ration.rationPctPerDay) / 100;
  const cellsPerDay = (algaeDryGPerDay * 1e12) / ration.dryWeightPgPerCell;
  return ok({ algaeDryGPerDay, cellsPerDay, feedVolumeLPerDay: cellsPerDay / ration.stockCellsMl / 1000 });
};
