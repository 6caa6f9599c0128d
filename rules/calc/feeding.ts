import { chamberCount, countNeeded, fieldCount, replicateCount } from '../husbandry/count.js';
import {
  type Alga,
  conditioningRation,
  feedVolumeL,
  feedVolumeOnBenchSheetL,
  mixedFeed,
  residualEquivalentsMl,
} from '../husbandry/feed.js';
import { clearance, grazingForecast } from '../husbandry/grazing.js';
import { ANIMALS, CELLS_ML, COUNT, HOURS, type Range, SOME_CELLS_ML, VOLUME_L } from '../husbandry/range.js';
import { ok } from '../result.js';
import type { Calculation } from './calculation.js';
import { assumed, define, list, needed } from './define.js';
import { pairs } from './pairs.js';

const EQUIVALENTS: Range = [0.001, 1000];
const DILUTION: Range = [1, 1_000_000];

const FEED = [
  needed('tankVolumeL', 'L', VOLUME_L),
  needed('targetCellsMl', 'cells/mL', CELLS_ML),
  assumed('residualCellsMl', 'cells/mL', CELLS_ML, 0),
  needed('stockCellsMl', 'cells/mL', SOME_CELLS_ML),
] as const;

/** As `pairs`, of three lists. */
const algaeFrom = (shares: readonly number[], equivalents: readonly number[], stocks: readonly number[]): Alga[] =>
  Array.from({ length: Math.max(shares.length, equivalents.length, stocks.length) }, (_, i) => ({
    shareOfEquivalents: shares[i] ?? NaN,
    equivalentsPerCell: equivalents[i] ?? NaN,
    stockCellsMl: stocks[i] ?? NaN,
  }));

/** Feeding, grazing and counting. */
export const FEEDING_CALCULATIONS: readonly Calculation[] = [
  define({
    name: 'feed-volume',
    purpose: 'Litres of an algae culture that bring a tank to its target, the added water counted.',
    options: FEED,
    gives: 'L',
    source: 'arithmetic',
    run: feedVolumeL,
  }),
  define({
    name: 'feed-volume-bench-sheet',
    purpose: 'The same with the added water neglected, as most bench sheets have it.',
    options: FEED,
    gives: 'L',
    source: 'arithmetic',
    run: feedVolumeOnBenchSheetL,
  }),
  define({
    name: 'mixed-feed',
    purpose: 'Litres of each of several cultures, shares by equivalents; one number of each list per culture.',
    options: [
      needed('tankVolumeL', 'L', VOLUME_L),
      needed('targetEquivalentsMl', 'equivalents/mL', CELLS_ML),
      assumed('residualEquivalentsMl', 'equivalents/mL', CELLS_ML, 0),
      list('shareOfEquivalents', '1', [0, 1]),
      list('equivalentsPerCell', '1', EQUIVALENTS),
      list('stockCellsMl', 'cells/mL', SOME_CELLS_ML),
    ],
    gives: { feedVolumeL: ['each', 'L'], cells: ['cells', '1'], totalFeedVolumeL: ['together', 'L'] },
    source: "arithmetic; the equivalents per cell are the hatchery's own",
    run: ({ shareOfEquivalents, equivalentsPerCell, stockCellsMl, ...tank }) => {
      const feed = mixedFeed({ ...tank, algae: algaeFrom(shareOfEquivalents, equivalentsPerCell, stockCellsMl) });
      if (!feed.ok) return feed;
      const { algae, totalFeedVolumeL } = feed.value;
      return ok({
        feedVolumeL: algae.map((alga) => alga.feedVolumeL),
        cells: algae.map((alga) => alga.cells),
        totalFeedVolumeL,
      });
    },
  }),
  define({
    name: 'residual-equivalents',
    purpose: 'Equivalents left in a tank, from a count of each alga.',
    options: [list('cellsMl', 'cells/mL', CELLS_ML), list('equivalentsPerCell', '1', EQUIVALENTS)],
    gives: 'equivalents/mL',
    source: "arithmetic; the equivalents per cell are the hatchery's own",
    run: ({ cellsMl, equivalentsPerCell }) =>
      residualEquivalentsMl({
        counts: pairs(cellsMl, equivalentsPerCell).map(([count, each]) => ({
          cellsMl: count,
          equivalentsPerCell: each,
        })),
      }),
  }),
  define({
    name: 'conditioning-ration',
    purpose: "A day's algae for broodstock, as a share of their dry meat.",
    options: [
      needed('animals', '1', ANIMALS),
      needed('dryMeatGPerAnimal', 'g', [0.000_001, 10_000]),
      needed('rationPctPerDay', '% of dry meat', [0, 100]),
      needed('dryWeightPgPerCell', 'pg', [0.01, 1_000_000]),
      needed('stockCellsMl', 'cells/mL', SOME_CELLS_ML),
    ],
    gives: {
      algaeDryGPerDay: ['dry algae a day', 'g'],
      cellsPerDay: ['cells a day', '1'],
      feedVolumeLPerDay: ['culture a day', 'L'],
    },
    source: 'arithmetic; 2 to 4 % a day is usual (FAO Fisheries Technical Paper 471, 4.1.2, from a quotation)',
    run: conditioningRation,
  }),
  define({
    name: 'clearance',
    purpose: 'Water cleared and cells eaten per animal and hour, from two counts and a control without animals.',
    options: [
      needed('volumeL', 'L', VOLUME_L),
      needed('animals', '1', ANIMALS),
      needed('hours', 'h', HOURS),
      needed('startCellsMl', 'cells/mL', SOME_CELLS_ML),
      needed('endCellsMl', 'cells/mL', SOME_CELLS_ML),
      needed('controlStartCellsMl', 'cells/mL', SOME_CELLS_ML),
      needed('controlEndCellsMl', 'cells/mL', SOME_CELLS_ML),
    ],
    gives: {
      clearanceLPerHPerAnimal: ['cleared per animal', 'L/h'],
      meanCellsMl: ['mean concentration', 'cells/mL'],
      ingestionCellsPerHPerAnimal: ['eaten per animal', 'cells/h'],
    },
    source: 'Coughlan 1969, Marine Biology 2:356-358 (from memory)',
    run: clearance,
  }),
  define({
    name: 'grazing-forecast',
    purpose: 'Hours until a tank is grazed down to a residual, at the rate between two counts.',
    options: [
      needed('firstCellsMl', 'cells/mL', SOME_CELLS_ML),
      needed('secondCellsMl', 'cells/mL', SOME_CELLS_ML),
      needed('hoursBetween', 'h', HOURS),
      needed('nowCellsMl', 'cells/mL', SOME_CELLS_ML),
      needed('floorCellsMl', 'cells/mL', SOME_CELLS_ML),
    ],
    gives: { ratePerH: ['rate', '1/h'], hoursToFloor: ['down to the residual in', 'h'] },
    source: 'arithmetic',
    run: grazingForecast,
  }),
  define({
    name: 'chamber-count',
    purpose: 'Cells per mL from the squares of a counting chamber, with the 95 % interval of the count.',
    options: [
      list('counts', '1', COUNT),
      needed('squareAreaMm2', 'mm2', [0.0001, 10_000]),
      needed('depthMm', 'mm', [0.001, 100]),
      assumed('dilutionFactor', '1', DILUTION, 1),
    ],
    gives: {
      cellsMl: ['count', 'cells/mL'],
      lowCellsMl: ['from', 'cells/mL'],
      highCellsMl: ['to', 'cells/mL'],
    },
    source: 'chamber geometry from memory; interval Garwood 1936, Biometrika 28:437-442 (from memory)',
    run: chamberCount,
  }),
  define({
    name: 'field-count',
    purpose: 'Number per mL from fields of a Sedgewick-Rafter cell, with the 95 % interval of the count.',
    options: [
      needed('totalCount', '1', COUNT),
      needed('fieldsCounted', '1', [1, 100_000]),
      assumed('fieldVolumeUl', 'uL', [0.0001, 10_000], 1),
      assumed('dilutionFactor', '1', DILUTION, 1),
    ],
    gives: { perMl: ['count', 'per mL'], lowPerMl: ['from', 'per mL'], highPerMl: ['to', 'per mL'] },
    source: 'geometry from memory; interval Garwood 1936 (from memory)',
    run: fieldCount,
  }),
  define({
    name: 'count-needed',
    purpose: 'How many to count so that chance alone stays within a share (1 is all of it) at 95 %.',
    options: [needed('relativeHalfWidth', '1', [0.001, 1])],
    gives: '1',
    source: 'arithmetic on the Poisson distribution',
    run: countNeeded,
  }),
  define({
    name: 'replicate-count',
    purpose: 'Animals in a volume from counted subsamples, with the wider of two 95 % intervals.',
    options: [
      list('counts', '1', COUNT),
      needed('subsampleMl', 'mL', [0.0001, 1_000_000]),
      needed('totalVolumeMl', 'mL', [0.0001, 10_000_000_000]),
    ],
    gives: {
      animals: ['animals', '1'],
      lowAnimals: ['from', '1'],
      highAnimals: ['to', '1'],
      lowByChance: ['by chance alone from', '1'],
      highByChance: ['by chance alone to', '1'],
      lowByReplicates: ['by the replicates from', '1'],
      highByReplicates: ['by the replicates to', '1'],
      indexOfDispersion: ['variance over mean', '1'],
      chiSquare: ['chi-square', '1'],
      chiSquareCritical95: ['chi-square that chance exceeds once in twenty', '1'],
      overdispersed: ['not well mixed', ''],
    },
    source: 'Garwood 1936 (from memory) and Student, the wider',
    run: replicateCount,
  }),
];
