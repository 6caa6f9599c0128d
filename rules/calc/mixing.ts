import { afterRain, diluteToVolume, evaporation, mixTwoWaters } from '../husbandry/mixing.js';
import { type Range, SALINITY, TEMPERATURE_C, VOLUME_L } from '../husbandry/range.js';
import {
  brineToAddKg,
  drySaltToAddKg,
  salinityOfMix,
  waterEvaporatedKg,
  waterToAddKg,
  waterToExchangeKg,
} from '../husbandry/salt-balance.js';
import type { Calculation } from './calculation.js';
import { assumed, define, needed } from './define.js';

const SALT = 'salt balance';
const MASS_KG: Range = [0.001, 20_000_000];

const CORRECTION = [
  needed('tankKg', 'kg', MASS_KG),
  needed('salinity', '1', SALINITY),
  needed('targetSalinity', '1', SALINITY),
] as const;

/** Mixing waters, and correcting the salinity of a tank. */
export const MIXING_CALCULATIONS: readonly Calculation[] = [
  define({
    name: 'dilute-to-volume',
    purpose: 'Litres of two waters that give a final volume at a salinity between theirs.',
    options: [
      needed('finalVolumeL', 'L', VOLUME_L),
      needed('sourceSalinity', '1', SALINITY),
      needed('targetSalinity', '1', SALINITY),
      assumed('diluentSalinity', '1', SALINITY, 0),
    ],
    gives: { diluentL: ['of the diluent', 'L'], sourceL: ['of the source', 'L'] },
    source: SALT,
    run: diluteToVolume,
  }),
  define({
    name: 'mix-two-waters',
    purpose: 'Salinity and temperature of two waters mixed, weighted by volume.',
    options: [
      needed('volumeAL', 'L', VOLUME_L),
      needed('salinityA', '1', SALINITY),
      needed('temperatureAC', '°C', TEMPERATURE_C),
      needed('volumeBL', 'L', VOLUME_L),
      needed('salinityB', '1', SALINITY),
      needed('temperatureBC', '°C', TEMPERATURE_C),
    ],
    gives: { salinity: ['salinity', '1'], temperatureC: ['temperature', '°C'] },
    source: 'arithmetic; within about 0.5 % of weighting by mass',
    run: mixTwoWaters,
  }),
  define({
    name: 'evaporation',
    purpose: 'Salinity after evaporation, and the fresh water to put back.',
    options: [
      needed('startSalinity', '1', SALINITY),
      needed('startVolumeL', 'L', VOLUME_L),
      needed('endVolumeL', 'L', VOLUME_L),
    ],
    gives: { salinity: ['salinity', '1'], freshWaterL: ['fresh water to put back', 'L'] },
    source: SALT,
    run: evaporation,
  }),
  define({
    name: 'salinity-after-rain',
    purpose: 'Salinity of an open tank after rain, all of it mixed in.',
    options: [
      needed('startSalinity', '1', SALINITY),
      needed('waterDepthMm', 'mm', [1, 100_000]),
      needed('rainMm', 'mm', [0, 2000]),
    ],
    gives: '1',
    source: SALT,
    run: afterRain,
  }),
  define({
    name: 'water-to-add',
    purpose: 'Water of another salinity that brings a tank to its target, the tank growing by it.',
    options: [...CORRECTION, assumed('addedSalinity', '1', SALINITY, 0)],
    gives: 'kg',
    source: SALT,
    run: waterToAddKg,
  }),
  define({
    name: 'water-to-exchange',
    purpose: 'Water to take out and replace by another, the tank staying as full.',
    options: [...CORRECTION, assumed('addedSalinity', '1', SALINITY, 0)],
    gives: 'kg',
    source: SALT,
    run: waterToExchangeKg,
  }),
  define({
    name: 'brine-to-add',
    purpose: 'Brine of a known strength that brings a tank up to its target.',
    options: [...CORRECTION, needed('brineGKg', 'g/kg', [1, 350])],
    gives: 'kg',
    source: `${SALT}; g/kg by TEOS-10`,
    run: brineToAddKg,
  }),
  define({
    name: 'dry-salt-to-add',
    purpose: 'Dry sea salt that brings a tank up to its target; dissolve it first and add it slowly.',
    options: [...CORRECTION, assumed('saltFraction', '1', [0.5, 1], 0.97)],
    gives: 'kg',
    source: `${SALT}; g/kg by TEOS-10; look up the share of salt on the bag`,
    run: drySaltToAddKg,
  }),
  define({
    name: 'salinity-of-mix',
    purpose: 'Salinity of two waters mixed, by mass.',
    options: [
      needed('massAKg', 'kg', MASS_KG),
      needed('salinityA', '1', SALINITY),
      needed('massBKg', 'kg', MASS_KG),
      needed('salinityB', '1', SALINITY),
    ],
    gives: '1',
    source: SALT,
    run: salinityOfMix,
  }),
  define({
    name: 'water-evaporated',
    purpose: 'Water that evaporated since a tank was filled, from its salinity.',
    options: [
      needed('filledKg', 'kg', MASS_KG),
      needed('filledSalinity', '1', SALINITY),
      needed('salinity', '1', [0.001, SALINITY[1]]),
    ],
    gives: 'kg',
    source: SALT,
    run: waterEvaporatedKg,
  }),
];
