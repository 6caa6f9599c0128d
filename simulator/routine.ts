import type { Event, Schedule } from './event.js';
import type { Hatchery } from './hatchery.js';
import { daysSinceService } from './probe.js';
import { seedFrom, uniformAt } from './random.js';
import type { Tank } from './tank.js';

/**
 * The ordinary work of a hatchery's day (common practice, no source): larval tanks drained every second morning,
 * broodstock hosed twice a week, everybody fed twice, flow shut while the adults feed, probes lifted for their service.
 */
export const routineOf = (hatchery: Hatchery): Schedule => {
  const zoneMs = hatchery.climate.sunHours * HOUR_MS;
  return (atMs) => {
    const day = Math.floor((atMs + zoneMs) / DAY_MS);
    const startMs = day * DAY_MS - zoneMs;
    return hatchery.tanks
      .flatMap((tank, index) => dayOf(hatchery, tank, index, day, startMs))
      .filter(({ fromMs, toMs }) => fromMs <= atMs && atMs < toMs);
  };
};

const HOUR_MS = 3_600_000;
const MINUTE_MS = 60_000;
const DAY_MS = 86_400_000;
const SERVICE_MINUTES = 9;

const dayOf = (hatchery: Hatchery, tank: Tank, index: number, day: number, startMs: number): readonly Event[] => {
  const lateMs = uniformAt(seedFrom(hatchery.seed, `work ${tank.id}`), day) * 20 * MINUTE_MS;
  const at = (hour: number): number => startMs + hour * HOUR_MS + lateMs;
  return [...cleaning(tank, index, day, at), ...feeding(tank, at), ...service(tank, startMs)];
};

type At = (hour: number) => number;

const cleaning = (tank: Tank, index: number, day: number, at: At): readonly Event[] => {
  const isTurn =
    tank.regime === 'static' ? (day + index) % 2 === 0 : tank.bed.kind !== 'none' && (day + index) % 4 === 0;
  if (!isTurn) return [];
  const fromMs = at(8.4 + 0.45 * (index % 5));
  return [{ kind: 'drain-down', tank: tank.id, declared: true, fromMs, toMs: fromMs + 32 * MINUTE_MS }];
};

const feeding = (tank: Tank, at: At): readonly Event[] =>
  [12.6, 17.2].flatMap((hour): readonly Event[] => {
    const fromMs = at(hour);
    const meal: Event = { kind: 'feeding', tank: tank.id, meals: 0.6, fromMs, toMs: fromMs + 10 * MINUTE_MS };
    const isShut = tank.stage === 'conditioning' || tank.stage === 'ripe';
    const shut: Event = { kind: 'flow-off', tank: tank.id, declared: true, fromMs, toMs: fromMs + 55 * MINUTE_MS };
    return isShut ? [meal, shut] : [meal];
  });

/** On the day of its service, the minutes before the drift starts anew. */
const service = (tank: Tank, startMs: number): readonly Event[] => {
  const noon = startMs + 12 * HOUR_MS;
  const sinceMs = daysSinceService(tank.id, noon) * DAY_MS;
  if (sinceMs > 12 * HOUR_MS) return [];
  const toMs = noon - sinceMs;
  return [{ kind: 'probe-lifted', place: tank.id, declared: true, fromMs: toMs - SERVICE_MINUTES * MINUTE_MS, toMs }];
};
