import { waterToAddKg } from '../husbandry/salt-balance.js';
import type { CheckCode } from '../words/check.js';
import type { EvidenceCode } from '../words/evidence.js';
import type { Condition, Opinion, Sight } from './condition.js';
import type { Line, Priority, Remedy } from './finding.js';
import { isCellsJump, type SalinityShape, salinityShape } from './salinity-shape.js';
import { movedBy, togetherness } from './sisters.js';
import { hourlyStep } from './tolerance.js';
import { hasMoved, isLive } from './trend.js';
import { channelAt } from './view.js';

const MINUTE_MS = 60_000;
const SPAN_MS = 15 * MINUTE_MS;
/** A hand measurement is good for so long. */
const HAND_MS = 30 * MINUTE_MS;
/** Slow shapes are told when a line is so near. Common practice, no source. */
const AHEAD_H = 24;
/** New water has another temperature; a bubble has none. */
const WATER_MOVED_C = 0.25;
/** mS/cm: less than this is no change of the water. */
const CELL_MOVED = 0.5;
const LITRE_KG = 1.023;

const lineFor = ({ wants }: Sight, side: 'low' | 'high'): Line | undefined => {
  const target = side === 'high' ? wants?.targetHigh : wants?.targetLow;
  const limit = side === 'high' ? wants?.limitHigh : wants?.limitLow;
  if (limit !== undefined) return { kind: 'limit', side, value: limit };
  return target === undefined ? undefined : { kind: 'target', side, value: target };
};

/**
 * Fresh water to add, after a hand measurement within half an hour and never faster than the stage stands. Only from a
 * measurement by hand: a fouled cell must not make anybody pour.
 */
const remedyOf = ({ place, placeNow, wants, nowMs }: Sight): Remedy | undefined => {
  const hand = placeNow.hand?.salinity;
  const target = wants?.targetHigh;
  const most = hourlyStep(place)?.salinity;
  if (hand === undefined || nowMs - hand.atMs > HAND_MS || target === undefined || most === undefined) return undefined;
  if (place.volumeL === undefined || hand.value <= target) return undefined;
  const kg = waterToAddKg({
    tankKg: place.volumeL * LITRE_KG,
    salinity: hand.value,
    targetSalinity: target,
    addedSalinity: 0,
  });
  return kg.ok ? { add: 'fresh-water', litres: kg.value, overHours: (hand.value - target) / most } : undefined;
};

type Cause = {
  readonly facts: readonly EvidenceCode[];
  readonly priority: Priority;
  readonly checks: readonly CheckCode[];
};

const isSupplied = ({ place }: Sight): boolean => place.regime !== 'static';

const headerMoved = ({ place, view, nowMs }: Sight, by: number): boolean => {
  const moved = movedBy(channelAt(view.spotOf(place.lineId), 'salinity'), nowMs, SPAN_MS);
  return moved !== undefined && moved * by > 0 && Math.abs(moved) >= 0.3 * Math.abs(by);
};

/** Conductivity stands still while the temperature jumps: the salinity reckoned from both is the thermometer's. */
const isThermometers = ({ nowMs, ...sight }: Sight): boolean => {
  const conductivity = sight.beside('conductivity') ?? sight.beside('specific-conductance');
  const temperature = sight.beside('temperature');
  if (!isLive(conductivity, nowMs) || !isLive(temperature, nowMs)) return false;
  return (
    !hasMoved(conductivity, nowMs, SPAN_MS, CELL_MOVED) && hasMoved(temperature, nowMs, SPAN_MS, 2 * WATER_MOVED_C)
  );
};

const RAIN: readonly CheckCode[] = ['hand-salinity', 'intake-rain', 'close-intake'];
const PROBE: readonly CheckCode[] = ['probe-bubble', 'hand-salinity'];
const FRESH: readonly CheckCode[] = ['fresh-water-valve', 'hand-salinity', 'look-at-tank'];

const fastCause = (sight: Sight, { by, isStep }: Extract<SalinityShape, { kind: 'fast' }>): Cause => {
  const how = togetherness(sight, 'salinity', by, SPAN_MS);
  const header = headerMoved(sight, by);
  if (how === 'together' || header) {
    const facts = header
      ? (['looks-like-rain', 'header-moved-too'] as const)
      : (['looks-like-rain', 'sisters-moved-too'] as const);
    return { facts, priority: 'medium', checks: RAIN };
  }
  const alone: readonly EvidenceCode[] = how === 'alone' ? ['only-this-tank'] : [];
  // A cell that is jumped by a bubble jumps by itself: no other probe in the water notices anything.
  const { channel, nowMs } = sight;
  const jumps = channel !== undefined && isCellsJump(channel, sight.beside('temperature'), nowMs, nowMs - SPAN_MS);
  if (isStep && jumps) return { facts: ['looks-like-probe', ...alone], priority: 'low', checks: PROBE };
  return by < 0
    ? { facts: ['looks-like-fresh-water', ...alone], priority: 'medium', checks: FRESH }
    : { facts: alone, priority: 'medium', checks: ['hand-salinity', 'look-at-tank'] };
};

const slowCause = (sight: Sight, perHour: number): Cause => {
  const how = togetherness(sight, 'salinity', perHour, 60 * MINUTE_MS);
  if (perHour > 0 && !isSupplied(sight))
    return { facts: ['looks-like-evaporation'], priority: 'low', checks: ['hand-salinity', 'top-up-slowly'] };
  if (perHour < 0 && (how === 'together' || headerMoved(sight, perHour)))
    return { facts: ['looks-like-rain', 'sisters-moved-too'], priority: 'low', checks: RAIN };
  if (perHour < 0 && how === 'alone')
    return { facts: ['looks-like-probe', 'only-this-tank'], priority: 'low', checks: PROBE };
  return { facts: [], priority: 'low', checks: ['hand-salinity'] };
};

const found = (sight: Sight, value: number, perHour: number, { facts, priority, checks }: Cause): Opinion => {
  const line = lineFor(sight, perHour > 0 ? 'high' : 'low');
  const remedy = perHour > 0 ? remedyOf(sight) : undefined;
  return {
    raw: true,
    finding: {
      priority,
      value,
      perHour,
      ...(line === undefined ? {} : { line }),
      ...(remedy === undefined ? {} : { remedy }),
      evidence: facts,
      checks,
    },
  };
};

const isNear = (line: Line | undefined, value: number, perHour: number): boolean => {
  if (line === undefined) return false;
  const hours = (line.value - value) / perHour;
  return hours <= AHEAD_H;
};

/**
 * Salinity on the move, told apart by its shape, by the temperature beside it and by the tanks on the same line:
 * evaporation, rain or a fresh intake, fresh water running in, a bubble or a film. A tide, and a top-up that stays
 * inside the target, are no finding. Slow shapes are never worth waking for.
 */
export const SALINITY_SHIFT: Condition = {
  code: 'salinity-shift',
  scope: 'channel',
  everyMs: 30_000,
  standsAt: ({ place, quantity, position }) =>
    quantity === 'salinity' && position === undefined && place.kind !== 'room' && place.stage !== 'empty',
  timing: () => ({ onDelayMs: 120_000, offDelayMs: 600_000 }),
  judge: (sight, before) => {
    const { channel, placeNow, wants, nowMs } = sight;
    if (placeNow.wet === 'dry' || !isLive(channel, nowMs)) return { raw: before.on ? undefined : false };
    const shape = salinityShape(channel, nowMs, sight.place.regime === 'static');
    if (shape.kind === 'still' || shape.kind === 'tide') return { raw: false };
    if (shape.kind === 'slow') {
      const { perHour } = shape;
      const target = perHour > 0 ? wants?.targetHigh : wants?.targetLow;
      const isOut = target !== undefined && (perHour > 0 ? channel.value > target : channel.value < target);
      const isDue = isOut || isNear(lineFor(sight, perHour > 0 ? 'high' : 'low'), channel.value, perHour);
      return isDue ? found(sight, channel.value, perHour, slowCause(sight, perHour)) : { raw: false };
    }
    if (isThermometers(sight)) return { raw: false };
    const cause = fastCause(sight, shape);
    const { targetLow = Number.NEGATIVE_INFINITY, targetHigh = Number.POSITIVE_INFINITY } = wants ?? {};
    const isTopUp = shape.isStep && shape.by < 0 && channel.value >= targetLow && channel.value <= targetHigh;
    return isTopUp ? { raw: false } : found(sight, channel.value, shape.perHour, cause);
  },
};
