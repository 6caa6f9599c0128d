/**
 * The life of an alarm after ISA-18.2 / IEC 62682, as data. Core states and events are rows of two small tables; the
 * three inhibits (shelved, suppressed by design, out of service) lie over them, independent of each other.
 * While any inhibit is set, only whether the condition is true is remembered beneath it: leaving the last one with the
 * condition true is a fresh call, whatever had been acknowledged before.
 */
export const CORE_STATES = ['normal', 'unack', 'ack', 'rtn-unack', 'latched-unack', 'latched-ack'] as const;
export type CoreState = (typeof CORE_STATES)[number];

/** What is remembered of the core while inhibited. */
export type Beneath = 'inactive' | 'active' | 'latched';

/** In order of showing: the first that is set is the one a screen names. */
export const INHIBITS = ['out-of-service', 'suppressed', 'shelved'] as const;
export type Inhibit = (typeof INHIBITS)[number];

export const ALARM_EVENTS = [
  'cond-on',
  'cond-off',
  'ack',
  'reset',
  'realarm',
  'shelve',
  'unshelve',
  'shelve-expired',
  'suppress',
  'unsuppress',
  'out-of-service',
  'return-to-service',
] as const;
export type AlarmEvent = (typeof ALARM_EVENTS)[number];

/** What a transition asks of the shell, beside being journalled. */
export type AlarmDeed =
  | 'annunciate'
  | 'silence'
  | 'start-escalation'
  | 'stop-escalation'
  | 'notify-cleared'
  | 'log-inhibit'
  | 'log-uninhibit'
  | 'log-only'
  | 'start-shelve-timer'
  | 'restart-shelve-timer-within-cap';

export type Life =
  | { readonly core: CoreState; readonly inhibits: readonly [] }
  | { readonly beneath: Beneath; readonly inhibits: readonly [Inhibit, ...Inhibit[]] };

export type Transition = { readonly life: Life; readonly accepted: boolean; readonly deeds: readonly AlarmDeed[] };

export const NORMAL: Life = { core: 'normal', inhibits: [] };

type Row = readonly [next: CoreState, ...deeds: AlarmDeed[]];
type CoreEvent = 'cond-on' | 'cond-off' | 'ack' | 'reset' | 'realarm';
type Table = { readonly [core in CoreState]?: { readonly [event in CoreEvent]?: Row } };

/** A missing row is a refusal: nothing changes and the person is told "already done" or "nothing to reset". */
const PLAIN: Table = {
  normal: { 'cond-on': ['unack', 'annunciate', 'start-escalation'], 'cond-off': ['normal'] },
  unack: {
    'cond-on': ['unack'],
    'cond-off': ['rtn-unack', 'silence', 'stop-escalation', 'notify-cleared'],
    ack: ['ack', 'silence', 'stop-escalation'],
    realarm: ['unack', 'annunciate'],
  },
  ack: {
    'cond-on': ['ack'],
    'cond-off': ['normal', 'notify-cleared'],
    realarm: ['unack', 'annunciate', 'start-escalation'],
  },
  'rtn-unack': {
    'cond-on': ['unack', 'annunciate', 'start-escalation'],
    'cond-off': ['rtn-unack'],
    ack: ['normal'],
  },
};

/** A latching alarm stays, and goes on escalating, until a person has acknowledged and reset it. */
const LATCHING: Table = {
  ...PLAIN,
  unack: { ...PLAIN.unack, 'cond-off': ['latched-unack', 'silence'] },
  ack: { ...PLAIN.ack, 'cond-off': ['latched-ack'] },
  'latched-unack': {
    'cond-on': ['unack', 'annunciate', 'start-escalation'],
    'cond-off': ['latched-unack'],
    ack: ['latched-ack', 'silence', 'stop-escalation'],
  },
  'latched-ack': {
    'cond-on': ['unack', 'annunciate', 'start-escalation'],
    'cond-off': ['latched-ack'],
    reset: ['normal', 'notify-cleared'],
  },
};

const SETS: { readonly [event in AlarmEvent]?: Inhibit } = {
  shelve: 'shelved',
  suppress: 'suppressed',
  'out-of-service': 'out-of-service',
};
const LIFTS: { readonly [event in AlarmEvent]?: Inhibit } = {
  unshelve: 'shelved',
  'shelve-expired': 'shelved',
  unsuppress: 'suppressed',
  'return-to-service': 'out-of-service',
};

const BENEATH: { readonly [core in CoreState]: Beneath } = {
  normal: 'inactive',
  unack: 'active',
  ack: 'active',
  'rtn-unack': 'inactive',
  'latched-unack': 'latched',
  'latched-ack': 'latched',
};

const stay = (life: Life, accepted: boolean, ...deeds: AlarmDeed[]): Transition => ({ life, accepted, deeds });

/** Kept in the order of showing, so that equal lives are equal values. */
const inOrder = (inhibits: readonly [Inhibit, ...Inhibit[]]): readonly [Inhibit, ...Inhibit[]] => {
  const [first = inhibits[0], ...rest] = INHIBITS.filter((inhibit) => inhibits.includes(inhibit));
  return [first, ...rest];
};

const setInhibit = (life: Life, inhibit: Inhibit): Transition => {
  const timer: readonly AlarmDeed[] = inhibit === 'shelved' ? ['start-shelve-timer'] : [];
  if ('core' in life) {
    const beneath = BENEATH[life.core];
    // Taking an alarm out of service is for maintenance: it clears a latch, shelving and suppression keep it.
    const kept = inhibit === 'out-of-service' && beneath === 'latched' ? 'inactive' : beneath;
    const deeds = ['silence', 'stop-escalation', 'log-inhibit', ...timer] as const;
    return { life: { beneath: kept, inhibits: [inhibit] }, accepted: true, deeds };
  }
  if (life.inhibits.includes(inhibit)) {
    if (inhibit === 'shelved') return stay(life, true, 'restart-shelve-timer-within-cap');
    return stay(life, inhibit === 'suppressed');
  }
  const beneath = inhibit === 'out-of-service' && life.beneath === 'latched' ? 'inactive' : life.beneath;
  return {
    life: { beneath, inhibits: inOrder([inhibit, ...life.inhibits]) },
    accepted: true,
    deeds: ['log-inhibit', ...timer],
  };
};

const RELEASED: { readonly [beneath in Beneath]: Row } = {
  inactive: ['normal', 'log-uninhibit'],
  active: ['unack', 'log-uninhibit', 'annunciate', 'start-escalation'],
  latched: ['latched-unack', 'log-uninhibit', 'annunciate', 'start-escalation'],
};

const liftInhibit = (life: Life, inhibit: Inhibit): Transition => {
  if ('core' in life || !life.inhibits.includes(inhibit)) return stay(life, false);
  const [first, ...rest] = life.inhibits.filter((set) => set !== inhibit);
  if (first !== undefined) {
    return { life: { ...life, inhibits: [first, ...rest] }, accepted: true, deeds: ['log-uninhibit'] };
  }
  const [core, ...deeds] = RELEASED[life.beneath];
  return { life: { core, inhibits: [] }, accepted: true, deeds };
};

const inhibitedCondition = (
  life: Extract<Life, { beneath: Beneath }>,
  event: AlarmEvent,
  latching: boolean,
): Transition => {
  const { beneath, inhibits } = life;
  if (event === 'cond-on') {
    return beneath === 'active'
      ? stay(life, true)
      : { life: { ...life, beneath: 'active' }, accepted: true, deeds: ['log-only'] };
  }
  if (event !== 'cond-off') return stay(life, false);
  if (beneath !== 'active') return stay(life, true);
  const latched = latching && !inhibits.includes('out-of-service');
  return { life: { ...life, beneath: latched ? 'latched' : 'inactive' }, accepted: true, deeds: ['log-only'] };
};

const isCoreEvent = (event: AlarmEvent): event is CoreEvent => SETS[event] === undefined && LIFTS[event] === undefined;

/** One step of one alarm: total, never throws. A refused event changes nothing. */
export const alarmStep = (life: Life, event: AlarmEvent, latching: boolean): Transition => {
  const set = SETS[event];
  if (set !== undefined) return setInhibit(life, set);
  const lift = LIFTS[event];
  if (lift !== undefined) return liftInhibit(life, lift);
  if (!('core' in life)) return inhibitedCondition(life, event, latching);
  const row = isCoreEvent(event) ? (latching ? LATCHING : PLAIN)[life.core]?.[event] : undefined;
  if (row === undefined) return stay(life, false);
  const [core, ...deeds] = row;
  return { life: { core, inhibits: [] }, accepted: true, deeds };
};

/** Whether it belongs on a list that a person works through. */
export const isOpen = (life: Life): boolean => ('core' in life ? life.core !== 'normal' : life.beneath !== 'inactive');
