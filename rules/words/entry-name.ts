import type { Account } from '../log/book.js';
import type { EntryKind } from '../log/entry.js';
import type { GUT, SHEET_ENDS, SWIMMING } from '../log/kinds/animals.js';
import type { ROUNDS } from '../log/kinds/keeping.js';
import type { Phase, RUN_ENDS, SEXES } from '../log/kinds/run.js';
import type { CLEANED, CULTURE_EVENTS, LAYER_SIGHTS, SANDS, SIPHONS, SMELLS } from '../log/kinds/water.js';
import type { Task } from '../work.js';
import { type ByLanguage, inLanguage, type Language } from './language.js';

type Each<Key extends string> = { readonly [key in Key]: string };
type Table = {
  readonly kind: Each<EntryKind>;
  readonly task: Each<Task>;
  readonly account: Each<Account>;
  readonly phase: Each<Phase>;
  readonly end: Each<(typeof SHEET_ENDS)[number]>;
  readonly swimming: Each<(typeof SWIMMING)[number]>;
  readonly gut: Each<(typeof GUT)[number]>;
  readonly cleaned: Each<(typeof CLEANED)[number]>;
  readonly culture: Each<(typeof CULTURE_EVENTS)[number]>;
  readonly seenIn: Each<(typeof LAYER_SIGHTS)[number]>;
  readonly sand: Each<(typeof SANDS)[number]>;
  readonly smell: Each<(typeof SMELLS)[number]>;
  readonly siphons: Each<(typeof SIPHONS)[number]>;
  readonly sex: Each<(typeof SEXES)[number]>;
  readonly runEnd: Each<(typeof RUN_ENDS)[number]>;
  readonly round: Each<(typeof ROUNDS)[number]>;
};

const NAMES: ByLanguage<Table> = {
  en: {
    kind: {
      'brought-in': 'brought in',
      'eggs-stocked': 'eggs stocked',
      count: 'count',
      deaths: 'deaths',
      cull: 'cull',
      sample: 'sample',
      sale: 'sale',
      move: 'moved',
      split: 'split',
      pool: 'pooled',
      dump: 'dumped',
      stage: 'stage',
      'drain-down': 'drain-down sheet',
      feeding: 'feeding',
      'water-change': 'water change',
      'hand-measurement': 'hand measurement',
      cleaning: 'cleaning',
      'bed-look': 'look at the bed',
      disinfection: 'disinfectant in',
      'residual-test': 'residual test',
      treatment: 'treatment',
      calibration: 'calibration',
      culture: 'algae culture',
      filter: 'filter',
      'uv-hours': 'UV hours',
      'run-plan': 'spawning run',
      'run-phase': 'phase',
      'run-spawner': 'spawner',
      'run-eggs': 'eggs',
      'run-end': 'end of the run',
      work: 'declared work',
      'work-longer': 'work takes longer',
      'work-end': 'work done',
      round: 'round',
      'on-site': 'on site',
      note: 'note',
      struck: 'taken back',
    },
    task: {
      'water-change': 'water change',
      'bed-cleaning': 'bed cleaning',
      feeding: 'feeding',
      count: 'count',
      'probe-service': 'probe service',
    },
    account: {
      'brought-in': 'brought in',
      eggs: 'eggs stocked',
      mixed: 'mixed',
      died: 'died',
      culled: 'culled',
      sampled: 'sampled',
      sold: 'sold',
      dumped: 'dumped',
      unaccounted: 'not accounted for',
    },
    phase: { ambient: 'ambient', warm: 'warm', cool: 'cool' },
    end: { 'back-in': 'back in', to: 'to another tank', split: 'split', pooled: 'pooled', dumped: 'dumped' },
    swimming: { all: 'all', most: 'most', half: 'half', few: 'few', none: 'none' },
    gut: { full: 'full', some: 'some', pale: 'pale', empty: 'empty' },
    cleaned: { tank: 'tank', bed: 'bed', screens: 'screens', pipes: 'pipes', filter: 'filter', probe: 'probe' },
    seenIn: { core: 'a core', 'black-edge': 'the black edge behind the glass' },
    sand: { light: 'light all through', specks: 'dark specks', black: 'a black layer' },
    smell: { none: 'none', slight: 'slight', foul: 'foul' },
    siphons: { showing: 'showing', some: 'some showing', none: 'none showing' },
    culture: {
      started: 'started',
      counted: 'counted',
      harvested: 'harvested',
      split: 'split',
      crashed: 'crashed',
      ended: 'ended',
    },
    sex: { male: 'male', female: 'female', both: 'gave both', unknown: 'not seen' },
    runEnd: {
      'enough-spawned': 'enough have spawned',
      'cycles-done': 'the cycles are done',
      ceiling: 'the ceiling',
      'signs-of-stress': 'gaping, mucus or no siphons',
      'not-ripe': 'not ripe',
      other: 'another reason',
    },
    round: { morning: 'morning round', evening: 'evening round', night: 'night round' },
  },
};

export const entryNames = (reader: { readonly language?: Language } = {}): Table => inLanguage(NAMES, reader);
