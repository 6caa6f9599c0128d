import type { Priority } from '../conditions/finding.js';
import { type Contact, contactOf } from '../contact.js';
import type { PlaceKind, Regime } from '../place.js';
import type { ByQuantity, Quantity } from '../quantity.js';
import type { Stage } from '../stage/stage.js';
import type { GapReason, Role } from '../wire/api.js';
import type { NotWatched } from '../wire/picture.js';
import type { Task, WorkKind } from '../work.js';
import { type ByLanguage, inLanguage, type Language } from './language.js';

type Each<Key extends string> = { readonly [key in Key]: string };
type Table = {
  readonly quantity: ByQuantity<string>;
  /** For a label where a word does not fit. */
  readonly short: ByQuantity<string>;
  readonly stage: Each<Stage>;
  /** The state that a declared work leaves a tank in. */
  readonly work: Each<WorkKind>;
  /** The work itself: `the drain-down`. */
  readonly workItself: Each<WorkKind>;
  readonly task: Each<Task>;
  readonly place: Each<PlaceKind>;
  readonly contact: Each<Contact>;
  readonly regime: Each<Regime>;
  readonly gap: Each<GapReason>;
  readonly notWatched: Each<NotWatched>;
  readonly priority: Each<Priority>;
  readonly role: Each<Role>;
};

const NAMES: ByLanguage<Table> = {
  en: {
    quantity: {
      temperature: 'temperature',
      conductivity: 'conductivity',
      'specific-conductance': 'specific conductance',
      salinity: 'salinity',
      'oxygen-mg-l': 'dissolved oxygen',
      'oxygen-saturation': 'oxygen',
      ph: 'pH',
      orp: 'redox',
      pressure: 'pressure',
      level: 'water level',
      flow: 'flow',
      contact: 'switch',
      battery: 'battery',
    },
    short: {
      temperature: 'T',
      conductivity: 'C',
      'specific-conductance': 'C25',
      salinity: 'S',
      'oxygen-mg-l': 'DO',
      'oxygen-saturation': 'O2',
      ph: 'pH',
      orp: 'ORP',
      pressure: 'P',
      level: 'level',
      flow: 'flow',
      contact: 'switch',
      battery: 'batt',
    },
    stage: {
      quarantine: 'quarantine',
      'cold-hold': 'cold hold',
      conditioning: 'broodstock',
      ripe: 'ripe broodstock',
      spawning: 'spawning',
      embryo: 'embryos',
      larva: 'larvae',
      setting: 'setting',
      'post-set': 'post-set seed',
      nursery: 'nursery',
      empty: 'empty',
    },
    work: {
      'drain-down': 'drained',
      'water-change': 'water change',
      'feeding-flow-off': 'feeding, flow off',
      filling: 'filling',
      'probe-service': 'probe service',
      'bed-cleaning': 'bed cleaning',
      disinfection: 'disinfection',
      'spawning-run': 'spawning run',
      'intake-closed': 'intake closed',
      'standby-test': 'standby test',
      resting: 'resting',
      alone: 'working alone',
    },
    workItself: {
      'drain-down': 'the drain-down',
      'water-change': 'the water change',
      'feeding-flow-off': 'the feeding with the flow off',
      filling: 'the filling',
      'probe-service': 'the probe service',
      'bed-cleaning': 'the bed cleaning',
      disinfection: 'the disinfection',
      'spawning-run': 'the spawning run',
      'intake-closed': 'the closed intake',
      'standby-test': 'the standby test',
      resting: 'the rest',
      alone: 'the time alone',
    },
    task: {
      'water-change': 'the water change',
      'bed-cleaning': 'the bed cleaning',
      feeding: 'the feeding',
      count: 'the count',
      'probe-service': 'the probe service',
    },
    place: {
      tank: 'tank',
      line: 'supply line',
      intake: 'intake',
      bath: 'bath',
      room: 'room',
      'air-main': 'air main',
      circuit: 'power circuit',
    },
    contact: {
      'heater-current': 'heater current',
      'air-pressure': 'air pressure',
      mains: 'mains power',
      float: 'float',
      'wet-floor': 'wet floor',
    },
    regime: { static: 'static', 'flow-through': 'flow-through', recirculating: 'recirculating' },
    gap: {
      'board-silent': 'board silent',
      'broker-down': 'broker down',
      'gateway-down': 'gateway down',
      'out-of-water': 'out of water',
      'not-plausible': 'not plausible',
      'no-source': 'no probe named',
    },
    notWatched: {
      'no-limit': 'no limit set',
      muted: 'muted',
      silent: 'silent',
      'probe-overdue': 'probe overdue for service',
      'never-seen': 'no reading yet',
    },
    priority: { low: 'low priority', medium: 'medium priority', high: 'high priority' },
    role: { viewer: 'viewer', crew: 'crew', manager: 'manager' },
  },
};

type Spoken = { readonly language?: Language };
export const namesFor = (reader: Spoken = {}): Table => inLanguage(NAMES, reader);
export const quantityName = (quantity: Quantity, reader: Spoken = {}): string => namesFor(reader).quantity[quantity];
export const stageName = (stage: Stage, reader: Spoken = {}): string => namesFor(reader).stage[stage];

/** A channel on its own place's page: a switch is called by what it tells. */
export const channelName = (
  { quantity, position }: { readonly quantity: Quantity; readonly position?: string },
  kind: PlaceKind | undefined,
  reader: Spoken = {},
): string => {
  const contact = quantity === 'contact' && kind !== undefined ? contactOf(kind, position) : undefined;
  return contact === undefined ? quantityName(quantity, reader) : namesFor(reader).contact[contact];
};

/** The first letter of a sentence; the rest stays as it is (`pH` is never `PH`). */
export const capital = (text: string): string =>
  text.startsWith('pH') ? text : text.slice(0, 1).toUpperCase() + text.slice(1);
