import { makeChannelId } from '../../rules/channel.js';
import type { Place } from '../../rules/place.js';
import { UNIT } from '../../rules/quantity.js';
import type { SimulatedSource } from '../../rules/wire/simulated.js';
import type { Board } from '../board.js';
import type { Hatchery } from '../hatchery.js';
import type { Probe, Quantity } from '../probe.js';
import type { Line } from '../supply.js';
import type { Tank } from '../tank.js';
import { headerProbes, probesIn, tank } from '../world/build.js';

/** Two lines of an invented hatchery: five tanks of seed on warmed water, six on another line, one air main for all. */
export const WARM = { line: 'warm', tanks: ['n1', 'n2', 'n3', 'n4', 'n5'] } as const;
export const COOL = { line: 'cool', tanks: ['m1', 'm2', 'm3', 'm4', 'm5', 'm6'] } as const;
/** The thermostat of a header that hangs drives its water there. */
const STUCK_AT_C = 33;

const IN_TANK: readonly Quantity[] = ['temperature', 'salinity'];

const line = (id: string, circuit: string): Line => ({
  id,
  circuit,
  sea: { meanC: 17, dayC: 0.3, tideC: 0.3, salinity: 31, tideSalinity: 0.2, perMmRunoff: 0.02 },
  headerL: 1500,
  headerDepthM: 1.2,
  pumpLMin: 120,
  warmedToC: 22,
  oxygenShare: 0.97,
});

const seedTank = (id: string, line: string, flows: boolean): Tank =>
  tank({
    id,
    line,
    room: 'hall',
    airMain: 'air',
    stage: 'post-set',
    regime: flows ? 'flow-through' : 'static',
    volumeL: 400,
    depthM: 0.5,
    flowLMin: flows ? 8 : 0,
    animals: { restMgH: 60, feedingShare: 0.4 },
  });

/** N5 stands still that week, its valve closed, on a chiller of its own: it hangs on the warm line and takes nothing from it. */
const still = (id: string): Tank => ({
  ...seedTank(id, WARM.line, false),
  chiller: { powerKw: 1, setC: 22, bandC: 0.4, circuit: 'north' },
});

const TANKS: readonly Tank[] = [
  ...WARM.tanks.map((id) => (id === 'n5' ? still(id) : seedTank(id, WARM.line, true))),
  ...COOL.tanks.map((id) => seedTank(id, COOL.line, true)),
];

const board = (id: string, circuit: string, probes: readonly Probe[]): Board => ({
  id,
  circuit,
  periodS: 60,
  phaseS: 0,
  form: 'senml-json',
  stamps: 'seconds',
  clockAheadMs: 0,
  holds: 0,
  probes,
});

const tankProbes = (ids: readonly string[]): readonly Probe[] => ids.flatMap((id) => probesIn(id, 0.12, IN_TANK));

const BOARDS: readonly Board[] = [
  board('warm-1', 'north', tankProbes(['n1', 'n2', 'n3'])),
  board('warm-2', 'north', [...tankProbes(['n4', 'n5']), ...headerProbes(WARM.line, ['temperature'])]),
  board('cool-1', 'south', tankProbes(COOL.tanks)),
  board('cool-2', 'south', headerProbes(COOL.line, ['temperature'])),
];

/** A hall as warm as a shed under the summer sun: what hangs in its air reads more than the limit of the seed. */
const HALL = { id: 'hall', circuit: 'south', heatedToC: 29, holdH: 9, sunC: 1, pumpsC: 1 } as const;

export const dieOffPlant = (seed: number, stuck: boolean): Hatchery => ({
  site: { id: 'wrack-cove', name: 'Wrack Cove Hatchery' },
  seed,
  climate: { seed, meanC: 15, dayC: 4, spellC: 2, sunHours: 0, wetness: 0.2 },
  rooms: [HALL],
  circuits: ['north', 'south'],
  airMains: [{ id: 'air', circuit: 'south' }],
  lines: [{ ...line(WARM.line, 'north'), ...(stuck ? { warmedToC: STUCK_AT_C } : {}) }, line(COOL.line, 'south')],
  tanks: TANKS,
  boards: BOARDS,
});

/** The place of a probe as the people named it: a header's is its line. */
export const placeIdOf = ({ place }: Probe): string =>
  place.kind === 'tank' ? place.id : place.kind === 'header' ? place.line : place.id;

export const channelOf = (probe: Probe): string =>
  makeChannelId({ placeId: placeIdOf(probe), quantity: probe.quantity });

/** Every source as its board sends it, in a fixed order. */
export const SOURCES: readonly SimulatedSource[] = BOARDS.flatMap(({ id, probes }) =>
  probes.map((probe) => {
    const topic = `tanks/${placeIdOf(probe)}/${probe.quantity}`;
    return { key: topic, topic, board: id, channelId: channelOf(probe), unit: UNIT[probe.quantity] };
  }),
);

/** What the people have entered. */
export const placesOf = (sinceMs: number): readonly Place[] => [
  { id: WARM.line, kind: 'line', name: 'Warm line', order: 0, circuitId: 'north' },
  { id: COOL.line, kind: 'line', name: 'Cool line', order: 1, circuitId: 'south' },
  { id: 'air', kind: 'air-main', name: 'Air main', order: 0, circuitId: 'south' },
  { id: 'north', kind: 'circuit', name: 'Circuit north', order: 0 },
  { id: 'south', kind: 'circuit', name: 'Circuit south', order: 1 },
  { id: 'hall', kind: 'room', name: 'Seed hall', order: 0 },
  ...TANKS.map(
    ({ id, line: lineId, volumeL, depthM, regime, flowLMin }, order): Place => ({
      id,
      kind: 'tank',
      name: id.toUpperCase(),
      order,
      lineId,
      airMainId: 'air',
      circuitId: lineId === WARM.line ? 'north' : 'south',
      roomId: 'hall',
      volumeL,
      depthM,
      regime,
      aerated: true,
      stage: 'post-set',
      stageSinceMs: sinceMs,
      speciesGroup: 'warm-temperate-burrowing-clam',
      ...(flowLMin > 0 ? { flowLMin } : { chilled: true }),
    }),
  ),
];
