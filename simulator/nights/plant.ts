import type { Board } from '../board.js';
import type { Hatchery } from '../hatchery.js';
import type { Probe, Quantity } from '../probe.js';
import type { Random } from '../random.js';
import type { Line } from '../supply.js';
import type { Tank } from '../tank.js';
import { headerProbes, probe } from '../world/build.js';
import { drawHouse, drawTanks, type House, wantedSalinity } from './layout.js';

export const PERIOD_S = 30;
/** Trays of a spawning run are read so often: a kilowatt warms 75 L by 0.2 °C a minute. */
export const DENSE_PERIOD_S = 10;

const lineOf = (id: string, house: House, tanks: readonly Tank[], warmedToC: number | undefined): Line => {
  const drawLMin = tanks.filter(({ line }) => line === id).reduce((sum, { flowLMin }) => sum + flowLMin, 0);
  const salinity = id === 'larval' ? wantedSalinity(house.breeds, 'larva') : house.seaSalinity;
  return {
    id,
    circuit: 'mains-a',
    sea: { meanC: house.seaC, dayC: 0.4, tideC: 0.4, salinity, tideSalinity: 0.4, perMmRunoff: 0.35 },
    headerL: Math.max(400, 12 * drawLMin),
    headerDepthM: 1.1,
    pumpLMin: Math.max(40, 1.6 * drawLMin),
    warmedToC,
    oxygenShare: 0.97,
  };
};

const SET_FRESH_SHARE = 0.05;

/** Three probes at one height, none of them quite right. */
const tankProbes = (tank: Tank, random: Random): readonly Probe[] => {
  const place = { kind: 'tank', id: tank.id } as const;
  const heightM = tank.depthM * random.uniform(0.3, 0.75);
  const salt: Quantity = random.chance(0.6) ? 'conductivity' : 'salinity';
  const oxygen: Quantity = random.chance(0.5) ? 'oxygen-mg-l' : 'oxygen-saturation';
  const wide = oxygen === 'oxygen-mg-l' ? 0.15 : 2;
  const setFresh = oxygen === 'oxygen-mg-l' && random.chance(SET_FRESH_SHARE) ? { setSalinity: 0 } : {};
  return [
    probe(place, 'temperature', heightM, { offset: random.normal(0, 0.12), lagS: random.uniform(15, 90) }),
    probe(place, salt, heightM, { offset: random.normal(0, 0.35), noise: random.uniform(0.02, 0.08) }),
    probe(place, oxygen, heightM, { offset: random.normal(0, wide), lagS: random.uniform(30, 90), ...setFresh }),
  ];
};

const dense = (tank: Tank | undefined): boolean => tank?.stage === 'spawning';

const board = (id: string, circuit: string, probes: readonly Probe[], random: Random, periodS = PERIOD_S): Board => ({
  id,
  circuit,
  periodS,
  phaseS: 0,
  form: 'object',
  stamps: random.chance(0.5) ? 'seconds' : 'none',
  clockAheadMs: Math.round(random.normal(0, 1500)),
  holds: random.chance(0.5) ? 240 : 0,
  probes,
});

const waterBoards = (tanks: readonly Tank[], random: Random): readonly Board[] => {
  const boards: Board[] = [];
  for (let index = 0; index < tanks.length; index += 2) {
    const pair = tanks.slice(index, index + 2);
    const own = random.fork(`board ${index}`);
    const circuit = own.chance(0.35) ? 'standby' : 'mains-a';
    const probes = pair.flatMap((tank) => tankProbes(tank, own.fork(tank.id)));
    boards.push(board(`board-${index / 2 + 1}`, circuit, probes, own, pair.some(dense) ? DENSE_PERIOD_S : PERIOD_S));
  }
  return boards;
};

/** What a hatchery has or has not beside the three probes a tank: headers, contacts, a flow meter, level. */
const houseBoard = (tanks: readonly Tank[], random: Random): Board => {
  const contacts: readonly Probe[] = [
    probe({ kind: 'air-main', id: 'air-a' }, 'contact', 0),
    probe({ kind: 'air-main', id: 'air-b' }, 'contact', 0),
  ];
  const mains: readonly Probe[] = [
    probe({ kind: 'circuit', id: 'mains-a' }, 'contact', 0),
    probe({ kind: 'circuit', id: 'mains-b' }, 'contact', 0),
  ];
  const level = tanks.filter(() => random.chance(0.15));
  return board(
    'house',
    'standby',
    [
      ...(random.chance(0.6) ? headerProbes('brood', ['temperature', 'salinity']) : []),
      ...(random.chance(0.6) ? headerProbes('seed', ['temperature', 'salinity']) : []),
      ...(random.chance(0.5) ? contacts : []),
      ...(random.chance(0.5) ? mains : []),
      ...level.map(({ id }) => probe({ kind: 'tank', id }, 'level', 0)),
      ...(random.chance(0.25) ? [probe({ kind: 'tank', id: 's2' }, 'flow', 0)] : []),
    ],
    random,
  );
};

/** The hatchery of one night, as it really is. */
export const drawPlant = (seed: number, random: Random): Hatchery => {
  const house = drawHouse(random.fork('house'));
  const tanks = drawTanks(house, random.fork('tanks'));
  const warmest = (line: string): number =>
    Math.max(...tanks.filter((one) => one.line === line).map((one) => one.heater?.setC ?? -Infinity));
  const broodC = warmest('brood') - 2;
  const { uniform } = random.fork('weather');
  const room = { circuit: 'mains-b', holdH: 6, sunC: 1, pumpsC: 0.5 };
  return {
    site: { id: 'wrack-cove-night', name: 'Wrack Cove' },
    seed,
    climate: {
      seed,
      meanC: house.airC,
      dayC: uniform(2, 6),
      spellC: 3,
      sunHours: 0,
      // Rain that reaches the intake is a failure of its own kind.
      wetness: uniform(0, 0.05),
    },
    rooms: [
      { ...room, id: 'brood-room', heatedToC: house.broodRoomC },
      { ...room, id: 'larval-room', heatedToC: house.larvalRoomC },
      { ...room, id: 'seed-shed', heatedToC: undefined },
    ],
    circuits: ['mains-a', 'mains-b', 'standby'],
    airMains: [
      { id: 'air-a', circuit: 'mains-a' },
      { id: 'air-b', circuit: 'mains-a' },
    ],
    lines: [
      lineOf('brood', house, tanks, broodC > house.seaC ? broodC : undefined),
      lineOf('larval', house, tanks, Number.isFinite(warmest('larval')) ? warmest('larval') : undefined),
      lineOf('seed', house, tanks, undefined),
    ],
    tanks,
    boards: [...waterBoards(tanks, random.fork('boards')), houseBoard(tanks, random.fork('house board'))],
  };
};
