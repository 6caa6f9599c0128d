import { type Event, type EventOf, ofKind } from './event.js';
import { faultedValue } from './fault.js';
import { type Probe, placeName, probeKey, readProbe, stepFelt, type Truth } from './probe.js';
import { seedFrom } from './random.js';

export type Form = 'bare' | 'object' | 'senml-json' | 'senml-cbor';

/** A microcontroller with probes, and how it speaks. */
export type Board = {
  readonly id: string;
  readonly circuit: string;
  readonly periodS: number;
  /** Its first reading comes so long after a whole period, so that boards do not speak in chorus. */
  readonly phaseS: number;
  readonly form: Form;
  /** Time stamps in Unix seconds or milliseconds, or none (a bare number never has one). */
  readonly stamps: 'none' | 'seconds' | 'milliseconds';
  readonly clockAheadMs: number;
  /** How many rounds of readings it can hold while its link is down. */
  readonly holds: number;
  readonly probes: readonly Probe[];
};

export type BoardState = {
  readonly link: 'up' | 'down';
  /** undefined while it has no power. */
  readonly bootedAtMs: number | undefined;
  readonly nextAtMs: number;
  readonly felt: { readonly [probe: string]: number };
  readonly sent: { readonly [probe: string]: number };
  readonly backlog: readonly Batch[];
};

export type Sample = { readonly probe: Probe; readonly value: number | string };

/** One round of readings. `stampMs` is what the board's own clock said. */
export type Batch = {
  readonly takenMs: number;
  readonly stampMs: number | undefined;
  readonly samples: readonly Sample[];
};

export type BoardStep = {
  readonly state: BoardState;
  /** What leaves now, oldest first. */
  readonly batches: readonly Batch[];
  readonly link: 'kept' | 'came' | 'lost';
};

export type BoardAround = {
  readonly powered: boolean;
  readonly atMs: number;
  readonly events: readonly Event[];
  readonly seed: number;
  readonly truthOf: (probe: Probe) => Truth;
};

export const restingBoard: BoardState = {
  link: 'down',
  bootedAtMs: undefined,
  nextAtMs: 0,
  felt: {},
  sent: {},
  backlog: [],
};

/** Lets the sensing parts follow the water. */
export const feelWater = (
  state: BoardState,
  board: Board,
  truthFor: (probe: Probe) => Truth,
  dtS: number,
): BoardState => {
  const felt: { [probe: string]: number } = {};
  for (const probe of board.probes) {
    const key = probeKey(probe);
    felt[key] = stepFelt(state.felt[key], probe, truthFor(probe), dtS);
  }
  return { ...state, felt };
};

/** Reads the probes when it is time, and says what leaves the board. */
export const stepBoard = (before: BoardState, board: Board, around: BoardAround): BoardStep => {
  const faults = ofKind(around.events, 'board-fault').filter((event) => event.board === board.id);
  if (!around.powered || faults.some((event) => isStarting(event, around.atMs))) {
    const state: BoardState = { ...before, link: 'down', bootedAtMs: undefined, backlog: [] };
    return { state, batches: [], link: before.link === 'up' ? 'lost' : 'kept' };
  }
  const offline = faults.map(({ fault }) => fault).find((fault) => fault.kind === 'offline');
  const running = { ...before, bootedAtMs: before.bootedAtMs ?? around.atMs };
  const read = running.nextAtMs <= around.atMs ? readAll(running, board, around, faults) : undefined;
  const waiting = read === undefined ? running.backlog : [...running.backlog, read.batch];
  const next = { ...running, ...read?.next };
  if (offline !== undefined) {
    const backlog = offline.kind === 'offline' && offline.buffers ? waiting.slice(-board.holds) : [];
    return { state: { ...next, link: 'down', backlog }, batches: [], link: before.link === 'up' ? 'lost' : 'kept' };
  }
  return {
    state: { ...next, link: 'up', backlog: [] },
    batches: waiting,
    link: before.link === 'up' ? 'kept' : 'came',
  };
};

type ReadAll = { readonly batch: Batch; readonly next: Pick<BoardState, 'nextAtMs' | 'sent'> };

const readAll = (
  state: BoardState,
  board: Board,
  around: BoardAround,
  faults: readonly EventOf<'board-fault'>[],
): ReadAll => {
  const sent: { [probe: string]: number } = { ...state.sent };
  const samples: Sample[] = [];
  for (const probe of board.probes) {
    const value = readOne(probe, state, around);
    if (value === undefined) continue;
    if (typeof value === 'number') sent[probeKey(probe)] = value;
    samples.push({ probe, value });
  }
  const stampMs = stampOf(board, state, around.atMs, faults);
  return {
    batch: { takenMs: around.atMs, stampMs, samples },
    next: { sent, nextAtMs: nextAfter(board, around.atMs) },
  };
};

const readOne = (probe: Probe, state: BoardState, around: BoardAround): number | string | undefined => {
  const key = probeKey(probe);
  const truth = around.truthOf(probe);
  const seed = seedFrom(around.seed, key);
  let value: number | string | undefined = readProbe(state.felt[key] ?? truth.value, probe, truth, around.atMs, seed);
  for (const event of ofKind(around.events, 'probe-fault')) {
    if (event.place !== placeName(probe.place) || event.quantity !== probe.quantity) continue;
    if (typeof value !== 'number') return value;
    const { resolution } = probe;
    const moment = { sinceMs: event.fromMs, atMs: around.atMs, sent: state.sent[key], resolution, seed };
    value = faultedValue(value, event.fault, moment);
  }
  return value;
};

/** The board's own time: right, off, or counted from its start when it has not learnt the time since. */
const stampOf = (
  board: Board,
  state: BoardState,
  atMs: number,
  faults: readonly EventOf<'board-fault'>[],
): number | undefined => {
  if (board.stamps === 'none' || board.form === 'bare') return undefined;
  let stampMs = atMs + board.clockAheadMs;
  for (const { fault } of faults) {
    if (fault.kind === 'wrong-clock') stampMs += fault.byMs;
    if (fault.kind === 'reboot') return atMs - (state.bootedAtMs ?? atMs);
  }
  return stampMs;
};

const isStarting = ({ fault, fromMs }: EventOf<'board-fault'>, atMs: number): boolean =>
  fault.kind === 'reboot' && atMs < fromMs + fault.silentS * 1000;

const nextAfter = ({ periodS, phaseS }: Board, atMs: number): number => {
  const period = periodS * 1000;
  const phase = phaseS * 1000;
  return (Math.floor((atMs - phase) / period) + 1) * period + phase;
};
