import type { Quantity } from '../../rules/quantity.js';
import { practicalSalinityFromConductivity } from '../../rules/seawater/salinity.js';
import { wantsFor } from '../../rules/stage/wants.js';
import type { Hatchery } from '../hatchery.js';
import { probeKey } from '../probe.js';
import type { Call, Watch } from './call.js';
import type { Moment } from './course.js';
import { workAt } from './engine-watch.js';
import type { Night } from './night.js';
import { MINUTE_MS } from './span.js';
import { sourcesOf } from './told.js';

export type Manners = {
  readonly onDelayMs: number;
  readonly offDelayMs: number;
  /** A channel that has said nothing for so long is called out. */
  readonly silentMs: number;
  /** Told of declared work: a tank with work under way is muted as a whole. */
  readonly knowsWork: boolean;
};

/**
 * Plain fixed limits: the limits of the stage with a deadband, and dry contacts for air and mains where the hatchery has
 * them. A value beyond calls, and nothing else does (common practice, no source).
 */
export const PLAIN: Manners = { onDelayMs: 0, offDelayMs: 0, silentMs: Infinity, knowsWork: false };

/**
 * The same with everything that a careful hand can give to fixed limits: two minutes' delay on, one off, a call when a
 * channel has said nothing for a quarter of an hour, and declared work. It too knows nothing of bad readings, of
 * neighbours or of how fast things go (common practice, no source).
 */
export const CAREFUL: Manners = {
  onDelayMs: 2 * MINUTE_MS,
  offDelayMs: MINUTE_MS,
  silentMs: 15 * MINUTE_MS,
  knowsWork: true,
};

/** Deadbands usual for these quantities; the same width that the engine uses by default. */
const DEADBAND: { readonly [quantity in Quantity]?: number } = {
  temperature: 0.2,
  salinity: 0.5,
  'oxygen-mg-l': 0.3,
  'oxygen-saturation': 3,
};

type Gate = {
  readonly place: string;
  readonly quantity: Quantity;
  readonly low: number;
  readonly high: number;
  readonly deadband: number;
  /** The thermometer beside a conductivity cell, for its salinity. */
  readonly thermometer?: number;
};

type GateNow = {
  readonly value: number | undefined;
  readonly heardMs: number;
  readonly beyondMs: number | undefined;
  readonly withinMs: number | undefined;
  readonly on: boolean;
  readonly silent: boolean;
  readonly shelvedMs: number;
};

const CONTACT = { low: 0.5, high: Infinity, deadband: 0 } as const;

const gatesOf = (plant: Hatchery, night: Night): readonly (Gate | undefined)[] => {
  const sources = sourcesOf(plant);
  const keys = new Map(sources.map(({ probe }, index) => [probeKey(probe), index]));
  return sources.map(({ probe }) => {
    const { place, quantity } = probe;
    if (place.kind === 'header') return undefined;
    if (quantity === 'contact') return { place: place.id, quantity, ...CONTACT };
    const told = night.told.places.find(({ id }) => id === place.id);
    const judged = quantity === 'conductivity' ? 'salinity' : quantity;
    const wants = wantsFor(told, judged);
    if (wants === undefined) return undefined;
    const { limitLow = -Infinity, limitHigh = Infinity } = wants;
    const thermometer = quantity === 'conductivity' ? keys.get(`${place.id}/temperature`) : undefined;
    const gate = { place: place.id, quantity: judged, low: limitLow, high: limitHigh, deadband: DEADBAND[judged] ?? 0 };
    return thermometer === undefined ? gate : { ...gate, thermometer };
  });
};

const salinityOf = (conductivityMsCm: number, temperatureC: number | undefined): number | undefined => {
  if (temperatureC === undefined) return undefined;
  const answer = practicalSalinityFromConductivity({ conductivityMsCm, temperatureC });
  // An instrument shows 0 for a dry cell.
  return answer.ok ? answer.value : conductivityMsCm < 1 ? 0 : undefined;
};

/** One look at one value: beyond for long enough is on, back behind the deadband for long enough is off. */
const stepGate = (now: GateNow, { low, high, deadband }: Gate, atMs: number, manners: Manners): GateNow => {
  const { value } = now;
  if (value === undefined) return now;
  const isBeyond = value < low || value > high;
  const isBack = value >= low + deadband && value <= high - deadband;
  const beyondMs = isBeyond ? (now.beyondMs ?? atMs) : undefined;
  const withinMs = isBack ? (now.withinMs ?? atMs) : undefined;
  const on = now.on
    ? withinMs === undefined || atMs - withinMs < manners.offDelayMs
    : beyondMs !== undefined && atMs - beyondMs >= manners.onDelayMs;
  return { ...now, beyondMs, withinMs, on };
};

/** All gates of a hatchery, the one thing that moves, and the last raw value of each source. */
type Gates = {
  readonly gates: readonly (Gate | undefined)[];
  readonly now: GateNow[];
  readonly raws: (number | undefined)[];
  readonly manners: Manners;
};

const UNHEARD: GateNow = {
  value: undefined,
  heardMs: 0,
  beyondMs: undefined,
  withinMs: undefined,
  on: false,
  silent: false,
  shelvedMs: 0,
};

const at = ({ now }: Gates, index: number): GateNow => now[index] ?? UNHEARD;

const take = (all: Gates, { heard, atMs }: Moment): void => {
  for (const { sourceId, raw } of heard) {
    const index = sourceId - 1;
    all.raws[index] = raw;
    const gate = all.gates[index];
    if (gate === undefined) continue;
    const value = gate.thermometer === undefined ? raw : salinityOf(raw, all.raws[gate.thermometer]);
    all.now[index] = stepGate({ ...at(all, index), value, heardMs: atMs, silent: false }, gate, atMs, all.manners);
  }
};

/** What is still beyond, or still silent, when the work ends has to last from then. */
const mute = (all: Gates, index: number, atMs: number): readonly Call[] => {
  const now = at(all, index);
  all.now[index] = { ...now, on: false, beyondMs: undefined, silent: false, heardMs: atMs };
  return [];
};

const sound = (all: Gates, index: number, before: GateNow, atMs: number): readonly Call[] => {
  const gate = all.gates[index];
  const silent = atMs - at(all, index).heardMs >= all.manners.silentMs;
  const now = { ...at(all, index), silent };
  all.now[index] = now;
  if (gate === undefined || atMs < before.shelvedMs) return [];
  const code = now.on && !before.on ? `${gate.quantity}-limit` : silent && !before.silent ? 'silent' : undefined;
  if (code === undefined) return [];
  return [{ atMs, alarmId: `${index}`, code, priority: 'medium', places: [gate.place], isAgain: false }];
};

export const baselineWatch = (night: Night, manners: Manners): Watch => {
  const gates = gatesOf(night.plant, night);
  const now = gates.map(() => ({ ...UNHEARD, heardMs: night.hours.preludeMs }));
  const all: Gates = { gates, now, raws: gates.map(() => undefined), manners };
  return {
    hear: (moment) => {
      const { atMs } = moment;
      const before = [...all.now];
      take(all, moment);
      const work = workAt(night.work, atMs).filter(({ endedMs, untilMs }) => endedMs === undefined && atMs < untilMs);
      const muted = new Set(manners.knowsWork ? work.map(({ placeId }) => placeId) : []);
      return gates.flatMap((gate, index) => {
        if (gate === undefined) return [];
        return muted.has(gate.place) ? mute(all, index, atMs) : sound(all, index, before[index] ?? UNHEARD, atMs);
      });
    },
    answer: (answer) => {
      if (answer.verb !== 'shelve') return;
      const index = Number(answer.alarmId);
      all.now[index] = { ...at(all, index), shelvedMs: answer.untilMs };
    },
  };
};
