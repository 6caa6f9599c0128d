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

/**
 * Plain fixed limits as they are usually set up, done properly: the same limits of the stage, a deadband, two minutes'
 * delay on, one off, a call when a channel has said nothing for a quarter of an hour, and dry contacts for air and mains
 * where the hatchery has them. It is told of declared work as well: a tank with work under way is muted as a whole. It
 * knows nothing of bad readings, of neighbours or of how fast things go (common practice, no source).
 */
const ON_DELAY_MS = 2 * MINUTE_MS;
const OFF_DELAY_MS = MINUTE_MS;
const SILENT_MS = 15 * MINUTE_MS;
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

/** One look at one value: beyond for two minutes is on, back behind the deadband for one is off. */
const stepGate = (now: GateNow, { low, high, deadband }: Gate, atMs: number): GateNow => {
  const { value } = now;
  if (value === undefined) return now;
  const isBeyond = value < low || value > high;
  const isBack = value >= low + deadband && value <= high - deadband;
  const beyondMs = isBeyond ? (now.beyondMs ?? atMs) : undefined;
  const withinMs = isBack ? (now.withinMs ?? atMs) : undefined;
  const on = now.on
    ? withinMs === undefined || atMs - withinMs < OFF_DELAY_MS
    : beyondMs !== undefined && atMs - beyondMs >= ON_DELAY_MS;
  return { ...now, beyondMs, withinMs, on };
};

export const baselineWatch = (night: Night): Watch => {
  const gates = gatesOf(night.plant, night);
  const fresh: GateNow = {
    value: undefined,
    heardMs: night.hours.preludeMs,
    beyondMs: undefined,
    withinMs: undefined,
    on: false,
    silent: false,
    shelvedMs: 0,
  };
  const now: GateNow[] = gates.map(() => fresh);
  const at = (index: number): GateNow => now[index] ?? fresh;
  const raws: (number | undefined)[] = gates.map(() => undefined);

  const take = ({ heard, atMs }: Moment): void => {
    for (const { sourceId, raw } of heard) {
      const index = sourceId - 1;
      raws[index] = raw;
      const gate = gates[index];
      if (gate === undefined) continue;
      const value = gate.thermometer === undefined ? raw : salinityOf(raw, raws[gate.thermometer]);
      now[index] = stepGate({ ...at(index), value, heardMs: atMs, silent: false }, gate, atMs);
    }
  };

  const callsOf = (gate: Gate, index: number, before: GateNow, isMuted: boolean, atMs: number): readonly Call[] => {
    const silent = atMs - at(index).heardMs >= SILENT_MS;
    now[index] = { ...at(index), silent };
    if (isMuted) {
      // What is still beyond when the work ends has to last two minutes from then.
      now[index] = {
        ...at(index),
        on: false,
        beyondMs: undefined,
        heardMs: Math.max(at(index).heardMs, atMs - SILENT_MS + 1),
      };
      return [];
    }
    if (atMs < before.shelvedMs) return [];
    const call = (code: string): Call => ({
      atMs,
      alarmId: `${index}`,
      code,
      priority: 'medium',
      places: [gate.place],
      isAgain: false,
    });
    if (at(index).on && !before.on) return [call(`${gate.quantity}-limit`)];
    return silent && !before.silent ? [call('silent')] : [];
  };

  return {
    hear: (moment) => {
      const before = [...now];
      take(moment);
      const muted = new Set(
        workAt(night.work, moment.atMs)
          .filter(({ endedMs, untilMs }) => endedMs === undefined && moment.atMs < untilMs)
          .map(({ placeId }) => placeId),
      );
      return gates.flatMap((gate, index) =>
        gate === undefined ? [] : callsOf(gate, index, before[index] ?? fresh, muted.has(gate.place), moment.atMs),
      );
    },
    answer: ({ alarmId, verb, untilMs }) => {
      const index = Number(alarmId);
      if (verb === 'shelve' && untilMs !== undefined) now[index] = { ...at(index), shelvedMs: untilMs };
    },
  };
};
