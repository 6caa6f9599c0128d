import type { Event } from '../event.js';
import type { BoardFault, ProbeFault } from '../fault.js';
import type { Hatchery } from '../hatchery.js';
import { type Probe, placeName } from '../probe.js';
import type { Random } from '../random.js';
import { HOUR_MS, type Hours, MINUTE_MS, type Span } from './span.js';

/**
 * What cheap probes, boards and radio links do of a night, none of it the water's fault. Shares are per probe or board
 * and night, from practice (no source): a dozen tanks have about one oddity a night.
 */
type Oddity = {
  readonly share: number;
  readonly suits: (probe: Probe) => boolean;
  readonly make: (random: Random, probe: Probe) => { readonly fault: ProbeFault; readonly minutes: number };
};

const ALL_NIGHT_MIN = 720;
const any = (): boolean => true;
const isCell = ({ quantity }: Probe): boolean => quantity === 'conductivity' || quantity === 'salinity';
const isOxygen = ({ quantity }: Probe): boolean => quantity === 'oxygen-mg-l' || quantity === 'oxygen-saturation';
const isThermometer = ({ quantity }: Probe): boolean => quantity === 'temperature';

/** How far a knock, a bubble or fouling moves the reading, in the unit of the quantity. */
const reach = ({ quantity }: Probe): number =>
  ({ temperature: 1.5, conductivity: 8, salinity: 6, 'oxygen-mg-l': 2, 'oxygen-saturation': 25 })[
    quantity as 'temperature'
  ] ?? 0;

const ODDITIES: readonly Oddity[] = [
  {
    share: 0.004,
    suits: isThermometer,
    make: (random) => ({
      fault: { kind: 'fault-value', value: random.pick([85, -127, 0]) },
      minutes: random.chance(0.6) ? random.uniform(0.5, 4) : random.uniform(5, 90),
    }),
  },
  { share: 0.0015, suits: any, make: () => ({ fault: { kind: 'stuck' }, minutes: ALL_NIGHT_MIN }) },
  {
    share: 0.0015,
    suits: (probe) => !isThermometer(probe),
    make: (random) => ({ fault: { kind: 'fault-value', value: random.pick([0, 65535]) }, minutes: 30 }),
  },
  {
    share: 0.005,
    suits: any,
    make: (random, probe) => ({
      fault: { kind: 'spike', height: reach(probe) * random.uniform(-4, 4), share: random.uniform(0.002, 0.03) },
      minutes: ALL_NIGHT_MIN,
    }),
  },
  {
    share: 0.01,
    suits: any,
    make: (random) => ({
      fault: { kind: 'drop-out', share: random.uniform(0.05, 0.6) },
      minutes: random.uniform(30, ALL_NIGHT_MIN),
    }),
  },
  {
    share: 0.003,
    suits: any,
    make: (random) => ({ fault: { kind: 'silent' }, minutes: random.chance(0.5) ? ALL_NIGHT_MIN : 25 }),
  },
  {
    share: 0.008,
    suits: (probe) => isOxygen(probe) || isCell(probe),
    make: (random, probe) => ({
      fault: { kind: 'creep', perH: -(reach(probe) / 30) * random.uniform(0.3, 2) },
      minutes: ALL_NIGHT_MIN,
    }),
  },
  {
    share: 0.006,
    suits: isCell,
    make: (random, probe) => ({
      fault: { kind: 'step', by: -reach(probe) * random.uniform(0.2, 1.2) },
      minutes: random.uniform(20, 300),
    }),
  },
];

const ofProbe = (probe: Probe, random: Random, { startMs, endMs }: Hours): readonly Event[] =>
  ODDITIES.flatMap(({ share, suits, make }): readonly Event[] => {
    if (!suits(probe) || !random.chance(share)) return [];
    const { fault, minutes } = make(random, probe);
    const fromMs = Math.round(random.uniform(startMs - HOUR_MS, endMs - HOUR_MS));
    const toMs = fromMs + minutes * MINUTE_MS;
    return [{ kind: 'probe-fault', place: placeName(probe.place), quantity: probe.quantity, fault, fromMs, toMs }];
  });

type Hitch = {
  readonly share: number;
  readonly make: (random: Random) => { readonly fault: BoardFault; readonly minutes: number };
};

const HITCHES: readonly Hitch[] = [
  {
    share: 0.03,
    make: (random) => ({
      fault: { kind: 'offline', buffers: random.chance(0.5) },
      minutes: random.chance(0.75) ? random.uniform(1, 12) : random.uniform(12, 60),
    }),
  },
  { share: 0.004, make: () => ({ fault: { kind: 'offline', buffers: false }, minutes: ALL_NIGHT_MIN }) },
  { share: 0.015, make: (random) => ({ fault: { kind: 'reboot', silentS: random.uniform(10, 60) }, minutes: 3 }) },
  {
    share: 0.008,
    make: (random) => ({
      fault: { kind: 'wrong-clock', byMs: random.pick([-1, 1]) * random.uniform(0.02, 14) * HOUR_MS },
      minutes: ALL_NIGHT_MIN,
    }),
  },
];

const ofBoard = (id: string, random: Random, { startMs, endMs }: Hours): readonly Event[] =>
  HITCHES.flatMap(({ share, make }): readonly Event[] => {
    if (!random.chance(share)) return [];
    const { fault, minutes } = make(random);
    const fromMs = Math.round(random.uniform(startMs - HOUR_MS, endMs - HOUR_MS));
    return [{ kind: 'board-fault', board: id, fault, fromMs, toMs: fromMs + minutes * MINUTE_MS }];
  });

/** A flicker of the mains: pumps and boards start again by themselves. */
const FLICKER_SHARE = 0.012;

const flicker = (random: Random, { startMs, endMs }: Hours): readonly Event[] => {
  if (!random.chance(FLICKER_SHARE)) return [];
  const fromMs = Math.round(random.uniform(startMs, endMs));
  const span: Span = { fromMs, toMs: fromMs + random.uniform(5, 90) * 1000 };
  return ['mains-a', 'mains-b'].map((circuit) => ({ kind: 'power-cut', circuit, ...span }));
};

export const drawTrouble = (plant: Hatchery, random: Random, hours: Hours): readonly Event[] => [
  ...plant.boards.flatMap((board) => ofBoard(board.id, random.fork(board.id), hours)),
  ...plant.boards.flatMap(({ probes }) =>
    probes
      .filter(({ place }) => place.kind === 'tank' || place.kind === 'header')
      .flatMap((probe) => ofProbe(probe, random.fork(`${placeName(probe.place)} ${probe.quantity}`), hours)),
  ),
  ...flicker(random.fork('mains'), hours),
];
