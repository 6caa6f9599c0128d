import { SETTLE_MS } from '../quality/settle.js';
import { middle, rising } from '../statistics/quantile.js';
import { checksFor } from './checks.js';
import type { Condition, Sight } from './condition.js';
import type { Priority } from './finding.js';
import { isCellsJump } from './salinity-shape.js';
import { sisterFacts } from './sisters.js';
import { hourlyStep } from './tolerance.js';
import { isLive, type Point, unbroken } from './trend.js';

const MINUTE_MS = 60_000;
const HOUR_MS = 3_600_000;
/** The change counts from one end of the hour to the other, so that a dip that comes back is none. */
const SHORTEST_MS = 10 * MINUTE_MS;
const END_POINTS = 3;

const endOf = (points: readonly Point[]): number | undefined => middle(rising(points.map(([, value]) => value)));

/** Nothing before work ended and settled, or before these animals came, is theirs. */
const countsFromMs = ({ place, view, nowMs }: Sight): number => {
  const hourMs = Math.max(nowMs - HOUR_MS, place.stageSinceMs ?? 0);
  if (view.work.length === 0) return hourMs;
  const ended = view.work
    .filter(({ placeId, fromMs }) => placeId === place.id && fromMs <= nowMs)
    .map(({ endedMs, untilMs }) => Math.min(endedMs ?? untilMs, nowMs) + SETTLE_MS);
  return Math.max(hourMs, ...ended);
};

/** Change from the first minutes to the last of the hour, canonical unit; undefined for less than ten minutes. */
const changeWithinHour = (sight: Sight): { readonly by: number; readonly lengthMs: number } | undefined => {
  const { channel } = sight;
  if (channel === undefined) return undefined;
  const points = unbroken(channel, countsFromMs(sight));
  const [first, last] = [points[0], points.at(-1)];
  if (first === undefined || last === undefined || last[0] - first[0] < SHORTEST_MS) return undefined;
  const [from, to] = [endOf(points.slice(0, END_POINTS)), endOf(points.slice(-END_POINTS))];
  return from === undefined || to === undefined ? undefined : { by: to - from, lengthMs: last[0] - first[0] };
};

const standsMost = ({ place, quantity }: Sight): number | undefined => {
  const step = hourlyStep(place);
  if (step === undefined) return undefined;
  return quantity === 'temperature' ? step.temperatureC : step.salinity;
};

/** Ripe adults spill and embryos stop: those are worth a call. For the others it is for the record and the round. */
const priorityOf = ({ place: { stage } }: Sight, times: number): Priority =>
  stage === 'ripe' || stage === 'embryo' || times >= 2 ? 'medium' : 'low';

/** Temperature or salinity moved further within an hour than the stage stands, and nobody declared work. */
export const TOO_FAST: Condition = {
  code: 'too-fast',
  scope: 'channel',
  everyMs: 60_000,
  standsAt: ({ place, quantity, position }) =>
    (quantity === 'temperature' || quantity === 'salinity') &&
    position === undefined &&
    place.kind === 'tank' &&
    hourlyStep(place) !== undefined,
  // A cool vessel set into the bath, or vessels taken out: wait whether it stays.
  timing: () => ({ onDelayMs: 10 * MINUTE_MS, offDelayMs: 10 * MINUTE_MS }),
  judge: (sight, before) => {
    const { channel, placeNow, nowMs, quantity } = sight;
    const most = standsMost(sight);
    if (most === undefined || quantity === undefined) return { raw: false };
    if (placeNow.wet === 'dry' || !isLive(channel, nowMs)) return { raw: before.on ? undefined : false };
    const change = changeWithinHour(sight);
    if (change === undefined) return { raw: before.on ? undefined : false };
    const { by, lengthMs } = change;
    if (Math.abs(by) <= (before.raw ? 0.7 : 1) * most) return { raw: false };
    const temperature = sight.beside('temperature');
    if (quantity === 'salinity' && isCellsJump(channel, temperature, nowMs, countsFromMs(sight))) return { raw: false };
    return {
      raw: true,
      finding: {
        priority: priorityOf(sight, Math.abs(by) / most),
        value: channel.value,
        perHour: (by * HOUR_MS) / lengthMs,
        evidence: sisterFacts(sight, quantity, by, lengthMs),
        checks: checksFor(by > 0 ? 'high' : 'low', quantity, sight.place),
      },
    };
  },
};
