import type { Quantity } from '../../rules/quantity.js';
import { oxygenAtSaturation } from '../seawater.js';
import { baselineWatch, CAREFUL, PLAIN } from './baseline.js';
import type { Call, Reaching, Watch } from './call.js';
import { causesIn } from './cause.js';
import { type Course, liveNight, type TankTruth } from './course.js';
import { engineWatch } from './engine-watch.js';
import type { FailureKind } from './failure.js';
import type { HarmCause } from './harm.js';
import { makeNight, type Night } from './night.js';
import { answersBy, type Ground, hearCall, isNeedless, type Person, rested } from './person.js';
import { REACH_MS, shownFromMs } from './showable.js';
import { MINUTE_MS } from './span.js';

export type Needless = { readonly atMs: number; readonly codes: readonly string[]; readonly place: string };

/** How one watch did in one night. */
export type SideScore = {
  /** When the failure was first called out, asleep or at work; undefined when never. */
  readonly calledMs?: number;
  readonly calledBy?: string;
  readonly wakings: number;
  readonly needless: readonly Needless[];
  readonly alarms: number;
  /** Forecast minus truth, minutes, without sign. */
  readonly forecastErrors: readonly number[];
};

export type FailureScore = {
  readonly kind: FailureKind;
  readonly fromMs: number;
  readonly places: readonly string[];
  readonly harm?: { readonly atMs: number; readonly by: HarmCause; readonly tank: string };
  /** When the probes had first shown it, in time for the harm. */
  readonly shownMs?: number;
};

/** Seconds at work on the night's parts, as the worker's clock shows them. */
export type Seconds = { readonly physics: number; readonly engine: number; readonly baseline: number };

export type NightScore = {
  readonly seed: number;
  readonly failure?: FailureScore;
  /** Harm that no failure explains: our own mistake in making the night. */
  readonly strayHarms: number;
  readonly engine: SideScore;
  /** Plain fixed limits. */
  readonly baseline: SideScore;
  /** Fixed limits set up with every care. */
  readonly carefulBaseline: SideScore;
  readonly seconds: Seconds;
};

const waterValue = (water: TankTruth, quantity: Quantity): number | undefined => {
  const { temperatureC, salinity, oxygenMgL } = water;
  switch (quantity) {
    case 'temperature':
      return temperatureC;
    case 'salinity':
      return salinity;
    case 'oxygen-mg-l':
      return oxygenMgL;
    case 'oxygen-saturation':
      return (100 * oxygenMgL) / oxygenAtSaturation(temperatureC, salinity);
    default:
      return undefined;
  }
};

/** When the true water was first beyond the line after the call; undefined when not by the end of the night. */
const reachedMs = ({ tank, quantity, side, value }: Reaching, afterMs: number, course: Course): number | undefined =>
  course.moments.find(({ atMs, truth }) => {
    const water = truth[tank];
    const now = water === undefined ? undefined : waterValue(water, quantity);
    if (atMs < afterMs || now === undefined) return false;
    return side === 'high' ? now >= value : now <= value;
  })?.atMs;

const SCORED: ReadonlySet<Quantity> = new Set(['temperature', 'salinity', 'oxygen-mg-l', 'oxygen-saturation']);

/** A forecast for this night that did not come true by its end was off by the rest of the night at least. */
const errorOf = ({ atMs, forecast }: Call, course: Course, endMs: number): readonly number[] => {
  if (forecast === undefined || !SCORED.has(forecast.quantity) || forecast.reachesMs <= atMs) return [];
  const trueMs = reachedMs(forecast, atMs, course);
  if (trueMs === undefined && forecast.reachesMs >= endMs) return [];
  return [Math.abs((trueMs ?? endMs) - forecast.reachesMs) / MINUTE_MS];
};

export const groundOf = (night: Night, course: Course): Ground => {
  const lines = new Map(night.plant.tanks.map(({ id, line }) => [id, line]));
  return {
    startMs: night.hours.startMs,
    endMs: night.hours.endMs,
    onSite: night.onSite,
    lineOf: (place) => lines.get(place) ?? (night.plant.lines.some(({ id }) => id === place) ? place : undefined),
    find: causesIn(night, course),
  };
};

/** One watch over one night, with the person who answers it. */
export const keepWatch = (watch: Watch, course: Course, ground: Ground): { person: Person; calls: readonly Call[] } => {
  let person = rested;
  const calls: Call[] = [];
  for (const moment of course.moments) {
    const due = answersBy(person, moment.atMs);
    person = due.person;
    for (const answer of due.answers) watch.answer({ ...answer, atMs: moment.atMs });
    for (const call of watch.hear(moment)) {
      if (moment.atMs >= ground.startMs) calls.push(call);
      person = hearCall(person, call, ground);
    }
  }
  return { person, calls };
};

/** Counts what a watch did: hand-made wakings can be given to it as well. */
export const sideScore = ({ wakings }: Person, calls: readonly Call[], course: Course, endMs: number): SideScore => {
  const called = wakings
    .flatMap((waking) => waking.calls.map((call, index) => ({ call, cause: waking.causes[index] })))
    .filter(({ cause }) => cause === 'failure')
    .reduce<Call | undefined>(
      (first, { call }) => (first === undefined || call.atMs < first.atMs ? call : first),
      undefined,
    );
  return {
    ...(called === undefined ? {} : { calledMs: called.atMs, calledBy: called.code }),
    wakings: wakings.filter(({ asleep }) => asleep).length,
    needless: wakings.filter(isNeedless).map(({ atMs, calls: own }) => ({
      atMs,
      codes: [...new Set(own.map(({ code }) => code))],
      place: own[0]?.places[0] ?? '',
    })),
    alarms: calls.filter(({ isAgain }) => !isAgain).length,
    forecastErrors: calls.filter(({ isAgain }) => !isAgain).flatMap((call) => errorOf(call, course, endMs)),
  };
};

const failureScore = (night: Night, course: Course): FailureScore | undefined => {
  const { failure } = night;
  if (failure === undefined) return undefined;
  const { kind, fromMs, places } = failure;
  const harm = course.harmed.find(({ tank, atMs }) => places.includes(tank) && atMs >= fromMs);
  const shownMs = harm === undefined ? undefined : shownFromMs(night, course, harm.atMs);
  return {
    kind,
    fromMs,
    places,
    ...(harm === undefined ? {} : { harm }),
    ...(shownMs === undefined ? {} : { shownMs }),
  };
};

/** What one of the watches called in time was to be seen, whatever the comparison with the other night says. */
const provenBy = (failure: FailureScore, sides: readonly SideScore[]): FailureScore => {
  const { harm } = failure;
  if (harm === undefined || failure.shownMs !== undefined) return failure;
  const inTime = sides.flatMap(({ calledMs }) =>
    calledMs !== undefined && harm.atMs - calledMs >= REACH_MS ? [calledMs] : [],
  );
  return inTime.length === 0 ? failure : { ...failure, shownMs: Math.min(...inTime) };
};

const seconds = (): number => performance.now() / 1000;

/** Makes the night of a seed, lives it, and lets each of the watches watch it. */
export const judgeNight = (seed: number): NightScore => {
  const began = seconds();
  const night = makeNight(seed);
  const course = liveNight(night);
  const failure = failureScore(night, course);
  const ground = groundOf(night, course);
  const lived = seconds();
  const byEngine = keepWatch(engineWatch(night), course, ground);
  const watched = seconds();
  const byLimits = keepWatch(baselineWatch(night, PLAIN), course, ground);
  const byCareful = keepWatch(baselineWatch(night, CAREFUL), course, ground);
  const done = seconds();
  const { endMs } = night.hours;
  const engine = sideScore(byEngine.person, byEngine.calls, course, endMs);
  const baseline = sideScore(byLimits.person, byLimits.calls, course, endMs);
  const carefulBaseline = sideScore(byCareful.person, byCareful.calls, course, endMs);
  return {
    seed,
    ...(failure === undefined ? {} : { failure: provenBy(failure, [engine, baseline, carefulBaseline]) }),
    strayHarms: course.harmed.filter(
      ({ tank, atMs }) => failure === undefined || !failure.places.includes(tank) || atMs < failure.fromMs,
    ).length,
    engine,
    baseline,
    carefulBaseline,
    seconds: { physics: lived - began, engine: watched - lived, baseline: done - watched },
  };
};
