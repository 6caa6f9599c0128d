import { degreeDayFit, degreeDaySum } from '../husbandry/degree-days.js';
import { larvalGrowth, specificGrowth } from '../husbandry/growth.js';
import { lineAssociation } from '../husbandry/line-association.js';
import { ANIMALS, DAYS, type Range, TEMPERATURE_C, VOLUME_L } from '../husbandry/range.js';
import { checkSpawningPlan } from '../husbandry/spawning-plan.js';
import { seedByWeight, stockByArea, stockByVolume } from '../husbandry/stocking.js';
import { deadFraction, mortality, noneDeadFraction, survivalFraction } from '../husbandry/survival.js';
import type { Calculation } from './calculation.js';
import { assumed, define, list, needed, text } from './define.js';
import { pairs } from './pairs.js';

/** Shares and counts have no unit; written as in the canonical units of quantity.ts. */
const SHARE = '1';
const SURVIVORS: Range = [0, 1e12];
const DENSITY: Range = [0, 1_000_000];
const LENGTH_UM: Range = [1, 1_000_000];
const WEIGHT_MG: Range = [0.000_001, 1e9];
const TANKS: Range = [0, 10_000];
const SAMPLE: Range = [1, 1e9];

const STOCK = [
  needed('startCount', '1', ANIMALS),
  needed('endCount', '1', SURVIVORS),
  assumed('removedCount', '1', SURVIVORS, 0),
] as const;

/** Survival, stocking, growth, ripening and spawning. */
export const STOCK_CALCULATIONS: readonly Calculation[] = [
  define({
    name: 'survival',
    purpose: 'Share alive at the end; culls, samples and sales are not deaths.',
    options: STOCK,
    gives: SHARE,
    source: 'arithmetic',
    run: survivalFraction,
  }),
  define({
    name: 'mortality',
    purpose: 'Survival as a rate per day, and the share that dies in a day.',
    options: [...STOCK, needed('days', 'days', DAYS)],
    gives: {
      survivalFraction: ['survival', SHARE],
      mortalityRatePerDay: ['instantaneous rate', '1/day'],
      dailyMortalityFraction: ['dies in a day', SHARE],
    },
    source: 'arithmetic',
    run: mortality,
  }),
  define({
    name: 'dead-fraction',
    purpose: 'Share dead in a sample, with its 95 % interval.',
    options: [needed('dead', '1', [0, SAMPLE[1]]), needed('examined', '1', SAMPLE)],
    gives: { fraction: ['dead', SHARE], lowFraction: ['from', SHARE], highFraction: ['to', SHARE] },
    source: 'Wilson 1927 (from memory)',
    run: deadFraction,
  }),
  define({
    name: 'none-dead',
    purpose: 'What no dead in a sample can say: fewer than this share are dead, with 95 % confidence.',
    options: [needed('examined', '1', SAMPLE)],
    gives: { highFraction: ['fewer than', SHARE], ruleOfThreeFraction: ['by the rule of three', SHARE] },
    source: 'arithmetic on the binomial distribution',
    run: noneDeadFraction,
  }),
  define({
    name: 'stock-by-volume',
    purpose: 'Animals and litres of suspension that stock a tank at a density.',
    options: [
      needed('targetPerMl', 'per mL', DENSITY),
      needed('tankVolumeL', 'L', VOLUME_L),
      needed('suspensionPerMl', 'per mL', [0.001, 1e9]),
    ],
    gives: { animals: ['animals', '1'], suspensionVolumeL: ['suspension', 'L'] },
    source: 'arithmetic',
    run: stockByVolume,
  }),
  define({
    name: 'stock-by-area',
    purpose: 'Animals on a round screen at a density.',
    options: [needed('diameterCm', 'cm', [0.01, 10_000]), needed('targetPerCm2', 'per cm2', DENSITY)],
    gives: { areaCm2: ['area', 'cm2'], animals: ['animals', '1'] },
    source: 'arithmetic',
    run: stockByArea,
  }),
  define({
    name: 'seed-by-weight',
    purpose: 'Number of seed from a weighed and counted subsample.',
    options: [
      needed('totalDrainedG', 'g', [0, 1e9]),
      needed('sampleG', 'g', [0.000_01, 1_000_000]),
      needed('sampleCount', '1', [1, 10_000_000]),
    ],
    gives: { meanMg: ['mean weight', 'mg'], animals: ['animals', '1'] },
    source: 'arithmetic',
    run: seedByWeight,
  }),
  define({
    name: 'larval-growth',
    purpose: 'Growth of larvae per day, and days to the length at setting.',
    options: [
      needed('firstLengthUm', 'um', LENGTH_UM),
      needed('secondLengthUm', 'um', LENGTH_UM),
      needed('days', 'days', DAYS),
      needed('settingLengthUm', 'um', LENGTH_UM),
    ],
    gives: { growthUmPerDay: ['growth', 'um/day'], daysToSetting: ['setting in', 'days'] },
    source: 'arithmetic',
    run: larvalGrowth,
  }),
  define({
    name: 'specific-growth',
    purpose: 'Growth by weight, as per cent a day and as doubling time.',
    options: [
      needed('firstWeightMg', 'mg', WEIGHT_MG),
      needed('secondWeightMg', 'mg', WEIGHT_MG),
      needed('days', 'days', DAYS),
    ],
    gives: {
      specificGrowthPerDay: ['specific growth', '1/day'],
      growthPctPerDay: ['growth', '%/day'],
      doublingDays: ['doubles in', 'days'],
    },
    source: 'arithmetic',
    run: specificGrowth,
  }),
  define({
    name: 'degree-day-fit',
    purpose: 'Threshold and total of degree-days, from the days to ripeness at several steady temperatures.',
    options: [list('temperatureC', '°C', TEMPERATURE_C), list('days', 'days', DAYS)],
    gives: { thresholdC: ['threshold', '°C'], degreeDays: ['total', '°C days'] },
    source: 'least squares; both depend on what "ripe" means',
    run: ({ temperatureC, days }) =>
      degreeDayFit({
        observations: pairs(temperatureC, days).map(([temperature, time]) => ({
          temperatureC: temperature,
          days: time,
        })),
      }),
  }),
  define({
    name: 'degree-days',
    purpose: 'Degree-days so far, from periods with their mean temperature.',
    options: [
      needed('thresholdC', '°C', TEMPERATURE_C),
      list('days', 'days', [0, DAYS[1]]),
      list('meanC', '°C', TEMPERATURE_C),
    ],
    gives: '°C days',
    source: 'arithmetic; the threshold belongs to the species and the stock',
    run: ({ thresholdC, days, meanC }) =>
      degreeDaySum({ thresholdC, periods: pairs(days, meanC).map(([time, mean]) => ({ days: time, meanC: mean })) }),
  }),
  define({
    name: 'line-association',
    purpose: 'Whether deaths follow one supply line: affected tanks on it and elsewhere, and what chance would do.',
    options: [
      needed('affectedOnLine', '1', TANKS),
      needed('unaffectedOnLine', '1', TANKS),
      needed('affectedElsewhere', '1', TANKS),
      needed('unaffectedElsewhere', '1', TANKS),
    ],
    gives: {
      attackFractionOnLine: ['affected on the line', SHARE],
      attackFractionElsewhere: ['affected elsewhere', SHARE],
      pOneSided: ['chance alone', SHARE],
    },
    source: "Fisher's exact test, one-sided; it says that deaths follow the line, not why",
    run: lineAssociation,
  }),
  define({
    name: 'spawning-plan',
    purpose: 'Checks a plan of warm and cool phases against the ceiling, which is passed only with an argument.',
    options: [
      needed('ambientC', '°C', TEMPERATURE_C),
      needed('coolC', '°C', TEMPERATURE_C),
      needed('riseC', '°C', [0, 30]),
      assumed('holdMin', 'min', [1, 240], 30),
      assumed('cycles', '1', [1, 20], 4),
      needed('ceilingC', '°C', TEMPERATURE_C),
      text('argument'),
    ],
    gives: {
      peakC: ['warm phase', '°C'],
      headroomC: ['to the ceiling', '°C'],
      warmMin: ['in the warm phase', 'min'],
      runMin: ['the whole run', 'min'],
      argument: ['because', ''],
    },
    source:
      'arithmetic; the ceiling is that of the stage profile or the hatchery’s own, and sounds whatever the plan says',
    run: ({ argument, ...plan }) => checkSpawningPlan({ ...plan, ...(argument === undefined ? {} : { argument }) }),
  }),
];
