import { QUANTITIES } from '../../quantity.js';
import { cellsMl, line, salinity, sharePct, temperatureC, volumeL } from '../common.js';
import { choice, fieldsOf, flag, maybe, number, whole } from '../field.js';

export const CLEANED = ['tank', 'bed', 'screens', 'pipes', 'filter', 'probe'] as const;
export const CULTURE_EVENTS = ['started', 'counted', 'harvested', 'split', 'crashed', 'ended'] as const;

export const LAYER_SIGHTS = ['core', 'black-edge'] as const;
export const SANDS = ['light', 'specks', 'black'] as const;
export const SMELLS = ['none', 'slight', 'foul'] as const;
export const SIPHONS = ['showing', 'some', 'none'] as const;

/** Entries about water, food and the things around a tank. */
export const WATER_KINDS = {
  feeding: fieldsOf({
    alga: maybe(line),
    volumeL,
    cultureCellsMl: maybe(cellsMl),
    targetCellsMl: maybe(cellsMl),
    residualCellsMl: maybe(cellsMl),
  }),
  'water-change': fieldsOf({ sharePct, temperatureC: maybe(temperatureC), salinity: maybe(salinity) }),
  'hand-measurement': fieldsOf({
    quantity: choice(QUANTITIES),
    value: number(-2000, 1_000_000, ''),
    instrument: maybe(line),
  }),
  cleaning: fieldsOf({ what: choice(CLEANED), with: maybe(line) }),
  /** What a bed looks, smells and lives like; a layer that was seen calibrates its estimate. */
  'bed-look': fieldsOf({
    layerMm: maybe(number(0.1, 2000, 'mm')),
    seenIn: maybe(choice(LAYER_SIGHTS)),
    sand: maybe(choice(SANDS)),
    smell: maybe(choice(SMELLS)),
    siphons: maybe(choice(SIPHONS)),
  }),
  /** Disinfectant put into a tank or a line: it counts as inside until a residual test is clear. */
  disinfection: fieldsOf({
    product: line,
    doseMgL: number(0, 1_000_000, 'mg/L'),
    forMin: maybe(number(0, 10_000, 'min')),
  }),
  /** Clear when what was found is not above what the hatchery's own protocol allows; without that figure, only at 0. */
  'residual-test': fieldsOf({
    product: maybe(line),
    foundMgL: number(0, 1_000_000, 'mg/L'),
    allowedMgL: maybe(number(0, 1, 'mg/L')),
    rinsed: maybe(flag),
  }),
  treatment: fieldsOf({
    product: line,
    amount: line,
    why: line,
    prescribedBy: maybe(line),
    withdrawalDays: maybe(whole(0, 3650, 'd')),
  }),
  calibration: fieldsOf({
    quantity: choice(QUANTITIES),
    against: line,
    before: maybe(number(-2000, 1_000_000, '')),
    after: maybe(number(-2000, 1_000_000, '')),
  }),
  culture: fieldsOf({
    culture: line,
    event: choice(CULTURE_EVENTS),
    cellsMl: maybe(cellsMl),
    volumeL: maybe(volumeL),
  }),
  filter: fieldsOf({ what: line, micron: maybe(number(0.01, 1000, 'µm')) }),
  'uv-hours': fieldsOf({ lamp: line, hours: number(0, 1_000_000, 'h') }),
} as const;
