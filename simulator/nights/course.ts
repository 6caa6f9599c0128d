import type { Event } from '../event.js';
import { inForce } from '../event.js';
import { byId, type HatcheryState, known } from '../hatchery.js';
import { readBoards, startHatchery, stepHatchery } from '../hatchery-step.js';
import { probeKey } from '../probe.js';
import { depthOf } from '../tank.js';
import { mixed } from '../water.js';
import { type Exposure, type Harmed, harmOf, stepExposure, unharmed } from './harm.js';
import type { Night } from './night.js';
import { DENSE_PERIOD_S, PERIOD_S } from './plant.js';
import { sourcesOf } from './told.js';

/** One reading on its way to the watch. */
export type Heard = {
  readonly sourceId: number;
  readonly raw: number;
  readonly deviceMs?: number;
  /** It tells of the tank's water or supply: no fault in the probe, and the probe where it belongs. */
  readonly isHonest: boolean;
};

/** What is true of one tank at a moment. */
export type TankTruth = { readonly temperatureC: number; readonly salinity: number; readonly oxygenMgL: number };

/** Everything of one moment: what the boards sent, and how the water really was. */
export type Moment = {
  readonly atMs: number;
  readonly heard: readonly Heard[];
  readonly boards: readonly { readonly board: string; readonly state: 'online' | 'offline' }[];
  readonly truth: { readonly [tank: string]: TankTruth };
};

/** A night lived to its end without anybody mending anything: both watches are judged on these readings. */
export type Course = {
  readonly moments: readonly Moment[];
  readonly harmed: readonly Harmed[];
  /** The hatchery when the failure began, for living on without it. */
  readonly atFailure?: HatcheryState;
};

const SETTLE_STEP_S = 300;
/** Before the night the boards are heard so often: enough for what the watch wants to know of the evening. */
const PRELUDE_STEP_S = 120;

/** Time steps: coarse while the water settles, then the rhythm of the boards; dense from start to end of a run. */
const stepAt = ({ hours, plant, work }: Night, atMs: number): number => {
  if (atMs < hours.preludeMs) return SETTLE_STEP_S;
  if (atMs < hours.startMs - 1_800_000) return PRELUDE_STEP_S;
  const isRunning = work.some((one) => one.kind === 'spawning-run' && one.fromMs <= atMs && atMs < one.untilMs);
  const isDense = isRunning && plant.boards.some(({ periodS }) => periodS === DENSE_PERIOD_S);
  return isDense ? DENSE_PERIOD_S : PERIOD_S;
};

type SourceIds = { readonly [board: string]: { readonly [probe: string]: number } };

export const sourceIdsOf = (night: Night): SourceIds => {
  const ids: { [board: string]: { [probe: string]: number } } = {};
  sourcesOf(night.plant).forEach(({ probe, board }, index) => {
    const own = ids[board] ?? {};
    own[probeKey(probe)] = index + 1;
    ids[board] = own;
  });
  return ids;
};

const BLIND_FAULTS: ReadonlySet<string> = new Set([
  'stuck',
  'flat',
  'fault-value',
  'silent',
  'garbled',
  'step',
  'creep',
]);

/** Probes that do not tell the truth now: lifted, faulty, or the water has sunk below them. */
const blindOf = (night: Night, state: HatcheryState, events: readonly Event[]): ReadonlySet<string> => {
  const blind = new Set<string>();
  for (const event of events) {
    if (event.kind === 'probe-lifted') {
      blind.add(event.quantity === undefined ? event.place : `${event.place}/${event.quantity}`);
    } else if (event.kind === 'probe-fault' && BLIND_FAULTS.has(event.fault.kind)) {
      blind.add(`${event.place}/${event.quantity}`);
    }
  }
  for (const tank of night.plant.tanks) {
    const { volumeL } = known(state.water, tank.id);
    if (volumeL < tank.volumeL * 0.7 && depthOf(volumeL, tank) < 0.75 * tank.depthM) blind.add(tank.id);
  }
  return blind;
};

const hear = (night: Night, ids: SourceIds, state: HatcheryState, events: readonly Event[]) => {
  const read = readBoards(night.plant, state, events);
  const heard: Heard[] = [];
  const boards: { board: string; state: 'online' | 'offline' }[] = [];
  const blind = blindOf(night, state, events);
  for (const [board, { batches, link }] of Object.entries(read.steps)) {
    if (link !== 'kept') boards.push({ board, state: link === 'came' ? 'online' : 'offline' });
    for (const { samples, stampMs } of batches) {
      for (const { probe, value } of samples) {
        const key = probeKey(probe);
        const sourceId = ids[board]?.[key];
        if (sourceId === undefined || typeof value !== 'number') continue;
        const isHonest = !blind.has(key) && !(probe.place.kind === 'tank' && blind.has(probe.place.id));
        heard.push({ sourceId, raw: value, isHonest, ...(stampMs === undefined ? {} : { deviceMs: stampMs }) });
      }
    }
  }
  return { state: read.state, heard, boards };
};

const truthOf = (night: Night, state: HatcheryState): Moment['truth'] =>
  byId(night.plant.tanks, ({ id }) => {
    const water = known(state.water, id);
    return { ...mixed(water), salinity: water.salinity };
  });

type Exposures = { readonly [tank: string]: Exposure };

const expose = (
  night: Night,
  before: Exposures,
  state: HatcheryState,
  events: readonly Event[],
  dtS: number,
): Exposures => {
  const drained = new Set(events.flatMap((event) => (event.kind === 'drain-down' ? [event.tank] : [])));
  return byId(night.plant.tanks, (tank) => {
    const water = known(state.water, tank.id);
    // Animals of a drained tank are on screens and in buckets until it is full again.
    return stepExposure(known(before, tank.id), tank, water, dtS, drained.has(tank.id) || water.filling);
  });
};

const newlyHarmed = (before: readonly Harmed[], exposures: Exposures, atMs: number): readonly Harmed[] =>
  Object.entries(exposures).flatMap(([tank, exposure]): readonly Harmed[] => {
    const by = harmOf(exposure);
    return by === undefined || before.some((one) => one.tank === tank) ? [] : [{ tank, atMs, by }];
  });

/** Settles the water, then lives through the night. */
export const liveNight = (night: Night): Course => {
  const events = [...night.events, ...(night.failure?.events ?? [])];
  const start = startHatchery(night.plant, night.hours.settleMs);
  return live(night, events, start, night.hours.endMs, true);
};

/** The same night from where the failure began, without it: what the probes would have shown. */
export const liveWithout = (night: Night, from: HatcheryState, untilMs: number): readonly Moment[] =>
  live(night, night.events, from, untilMs, false).moments;

const live = (
  night: Night,
  events: readonly Event[],
  start: HatcheryState,
  untilMs: number,
  isJudged: boolean,
): Course => {
  const ids = sourceIdsOf(night);
  const moments: Moment[] = [];
  const harmed: Harmed[] = [];
  let state = start;
  let exposures: Exposures = byId(night.plant.tanks, ({ id }) => unharmed(known(state.water, id)));
  let atFailure: HatcheryState | undefined;
  while (state.atMs < untilMs) {
    if (atFailure === undefined && night.failure !== undefined && state.atMs >= night.failure.fromMs) atFailure = state;
    const dtS = stepAt(night, state.atMs);
    const isSettling = state.atMs < night.hours.preludeMs;
    const now = inForce(events, state.atMs);
    state = stepHatchery(night.plant, state, dtS, now);
    if (isSettling) {
      exposures = byId(night.plant.tanks, ({ id }) => unharmed(known(state.water, id)));
      continue;
    }
    if (isJudged) {
      exposures = expose(night, exposures, state, now, dtS);
      harmed.push(...newlyHarmed(harmed, exposures, state.atMs));
    }
    const { state: read, heard, boards } = hear(night, ids, state, inForce(events, state.atMs));
    state = read;
    moments.push({ atMs: state.atMs, heard, boards, truth: isJudged ? truthOf(night, state) : {} });
  }
  return { moments, harmed, ...(atFailure === undefined ? {} : { atFailure }) };
};
