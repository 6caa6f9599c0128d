import { makeChannelId, parseChannelId } from '../../rules/channel.js';
import type { ConditionCode, Finding } from '../../rules/conditions/finding.js';
import type { Effect } from '../../rules/engine/effect.js';
import type { Happening } from '../../rules/engine/happening.js';
import { type EngineState, emptyState, makeSnapshot, parseSnapshot } from '../../rules/engine/state.js';
import { stepAll } from '../../rules/engine.js';
import type { Hatchery, Mapping } from '../../rules/hatchery.js';
import type { Place } from '../../rules/place.js';
import { isQuantity, type Quantity, UNIT } from '../../rules/quantity.js';
import type { DeclaredWork, WorkKind } from '../../rules/work.js';

/** 22:00 in Lisbon on a spring night: an invented hatchery, one value each half minute. */
export const NIGHT_MS = Date.UTC(2026, 4, 4, 21, 0, 0);
export const MINUTE = 60_000;
export const HOUR = 3_600_000;
const PERIOD_MS = 30_000;

export type Course = number | ((minute: number) => number) | undefined;
/** By channel; a source of its own by `#` and its number. */
export type Courses = { readonly [channelId: string]: Course };
export type AlarmEffect = Extract<Effect, { do: 'alarm' }>;

/** Water in which nothing is wrong, with how much a sound probe trembles in it. */
const CALM: { readonly [quantity in Quantity]?: readonly [value: number, tremble: number] } = {
  temperature: [24, 0.02],
  salinity: [31, 0.03],
  'oxygen-mg-l': [6.8, 0.03],
  'oxygen-saturation': [97, 0.4],
  level: [0.9, 0.001],
  flow: [6, 0.05],
  contact: [1, 0],
  battery: [3.9, 0],
  orp: [200, 1],
  pressure: [30, 0.1],
};

/** The same tremble for the same reading, always: no two runs differ. */
const tremble = (seed: number): number => {
  const x = Math.sin(seed * 12.9898) * 43_758.5453;
  return 2 * (x - Math.floor(x)) - 1;
};

const rounded = (value: number): number => Math.round(value * 1000) / 1000;

/** Probes by place: `temperature`, or with a position `contact.heater-current`. `board`: what carries them all. */
export type Fitted = { readonly [placeId: string]: { readonly probes: readonly string[]; readonly board?: string } };

const mappingsOf = (fitted: Fitted): Mapping[] =>
  Object.entries(fitted)
    .flatMap(([placeId, { probes, board }]) => probes.map((probe) => ({ placeId, probe, board })))
    .map(({ placeId, probe, board }, index) => {
      const [quantity = '', position] = probe.split('.');
      if (!isQuantity(quantity)) throw new Error(`no quantity ${quantity}`);
      const channelId = makeChannelId({ placeId, quantity, ...(position === undefined ? {} : { position }) });
      const where = board === undefined ? {} : { board };
      const unit = UNIT[quantity];
      return { sourceId: index + 1, channelId, unit, fromMs: 0, ruling: true, periodMs: PERIOD_MS, ...where };
    });

export const WATER = ['temperature', 'salinity', 'oxygen-mg-l'] as const;

export const site = (places: readonly Place[], fitted: Fitted, more: Partial<Hatchery> = {}): Hatchery => ({
  site: { id: 'wrack-cove-test', name: 'Wrack Cove', zone: 'Europe/Lisbon', temperatureUnit: 'C', hours: 24 },
  places,
  mappings: mappingsOf(fitted),
  calibrations: [],
  ...more,
});

/** A larval tank that holds 24 °C with a 1 kW heater in 500 L. */
export const larvae = (id: string, more: Partial<Place> = {}): Place => ({
  id,
  kind: 'tank',
  name: id.toUpperCase(),
  order: 0,
  regime: 'static',
  stage: 'larva',
  stageSinceMs: NIGHT_MS - 5 * 24 * HOUR,
  volumeL: 500,
  heaterW: 1000,
  aerated: true,
  wants: {
    temperature: { targetLow: 22, targetHigh: 25.5, limitLow: 20, limitHigh: 28, ceilingHigh: 30, confirmed: true },
    salinity: { targetLow: 29, targetHigh: 33, limitLow: 26, limitHigh: 36, confirmed: true },
    'oxygen-mg-l': { targetLow: 6, limitLow: 4.2, confirmed: true },
    'oxygen-saturation': { targetLow: 80, targetHigh: 105, limitLow: 60, limitHigh: 115, confirmed: true },
  },
  ...more,
});

export type Watch = {
  readonly now: () => number;
  readonly state: () => EngineState;
  readonly tell: (happening: Happening) => readonly Effect[];
  /**
   * So many minutes of readings: calm water, but for what is said; undefined is silent. Minutes count from 0.
   * The probes named stuck do not tremble.
   */
  readonly lives: (minutes: number, courses?: Courses, stuck?: ReadonlySet<string>) => void;
  /** Through a snapshot and back, as over a restart of the process. */
  readonly restarts: () => void;
  readonly declares: (kind: WorkKind, placeId: string, minutes: number, more?: Partial<DeclaredWork>) => void;
  /** Conditions that hold now, with their subject: `heater-stuck-on l1.temperature`. */
  readonly holds: () => readonly string[];
  readonly finding: (code: ConditionCode, subject?: string) => Finding | undefined;
  readonly effects: () => readonly Effect[];
  /** Alarm events that call somebody, in order. */
  readonly calls: () => readonly string[];
  /** The first time at which an alarm of this kind called, minutes since the watch began. */
  readonly calledAfter: (code: ConditionCode) => number | undefined;
};

export const watch = (settings: Hatchery, startMs = NIGHT_MS): Watch => {
  let state = emptyState(settings, startMs);
  let nowMs = startMs;
  const effects: Effect[] = [];
  const tellAll = (happenings: readonly Happening[]): readonly Effect[] => {
    const done = stepAll(state, happenings);
    state = done.state;
    effects.push(...done.effects);
    return done.effects;
  };
  const tell = (happening: Happening): readonly Effect[] => tellAll([happening]);
  tell({ kind: 'hatchery', atMs: startMs, hatchery: settings });
  tell({ kind: 'start', atMs: startMs });
  const said = (channelId: string, courses: Courses, minute: number): number | undefined => {
    const address = parseChannelId(channelId);
    const course = channelId in courses ? courses[channelId] : CALM[address?.quantity ?? 'ph']?.[0];
    return typeof course === 'function' ? course(minute) : course;
  };
  const alarms = (): readonly AlarmEffect[] => effects.filter((effect) => effect.do === 'alarm');
  const calling = () => alarms().filter(({ deeds }) => deeds.includes('annunciate'));
  const holding = () =>
    state.judgements
      .flatMap(({ on }, index) => (on ? [state.plan.judgements[index]] : []))
      .filter((plan) => plan !== undefined);
  return {
    now: () => nowMs,
    state: () => state,
    tell,
    lives: (minutes, courses = {}, stuck = new Set()) => {
      const beganMs = nowMs;
      while (nowMs < beganMs + minutes * MINUTE) {
        nowMs += PERIOD_MS;
        const minute = (nowMs - beganMs) / MINUTE;
        const readings = settings.mappings.flatMap(({ sourceId, channelId }): readonly Happening[] => {
          const value = said(`#${sourceId}` in courses ? `#${sourceId}` : channelId, courses, minute);
          const most = CALM[parseChannelId(channelId)?.quantity ?? 'ph']?.[1] ?? 0;
          if (value === undefined) return [];
          const isStuck = stuck.has(channelId);
          const raw = rounded(value + (isStuck ? 0 : most * tremble(sourceId + nowMs / PERIOD_MS)));
          return [{ kind: 'reading', atMs: nowMs, sourceId, raw }];
        });
        tellAll([...readings, { kind: 'tick', atMs: nowMs }]);
      }
    },
    restarts: () => {
      const restored = parseSnapshot(makeSnapshot(state));
      if (restored === undefined) throw new Error('a snapshot of this version must be understood');
      state = restored;
    },
    declares: (kind, placeId, minutes, more = {}) => {
      const declared = { id: `w${nowMs}`, kind, placeId, by: 'Ines', fromMs: nowMs, untilMs: nowMs + minutes * MINUTE };
      tell({ kind: 'work', atMs: nowMs, work: [...state.work, { ...declared, ...more }] });
    },
    holds: () => holding().map(({ condition, subject }) => `${condition.code} ${subject}`),
    finding: (code, subject) => {
      const index = state.plan.judgements.findIndex(
        (plan, at) =>
          plan.condition.code === code &&
          (subject === undefined || plan.subject === subject) &&
          state.judgements[at]?.on === true,
      );
      return state.judgements[index]?.finding;
    },
    effects: () => effects,
    calls: () => calling().map(({ event, alarm }) => `${event} ${alarm.finding.condition} ${alarm.subject}`),
    calledAfter: (code) => {
      const first = calling().find(({ alarm }) => alarm.finding.condition === code);
      return first === undefined ? undefined : (first.atMs - startMs) / MINUTE;
    },
  };
};
