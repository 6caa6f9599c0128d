import { makeChannelId } from '../../rules/channel.js';
import type { Hatchery as Told } from '../../rules/hatchery.js';
import type { Place } from '../../rules/place.js';
import { UNIT } from '../../rules/quantity.js';
import type { Board } from '../board.js';
import type { Hatchery } from '../hatchery.js';
import type { Quantity } from '../probe.js';
import type { Line } from '../supply.js';
import type { Tank } from '../tank.js';
import { probesIn, tank } from './build.js';

/** The corner of an invented hatchery that one batch passes through, from the sand bed of its parents to post-set seed. */
const WATER: readonly Quantity[] = ['temperature', 'salinity', 'oxygen-mg-l'];

const own = { line: 'larval', room: 'hall', airMain: 'air', depthM: 0.6, openShare: 0.35, stage: 'larva' } as const;
const warming = (setC: number, powerKw: number) => ({ setC, powerKw, bandC: 0.3, circuit: 'mains' });

const TANKS: readonly Tank[] = [
  tank({
    ...own,
    id: 'b1',
    line: 'broodstock',
    stage: 'conditioning',
    regime: 'flow-through',
    volumeL: 900,
    flowLMin: 4,
    bed: { kind: 'sand', depthM: 0.12, uptakeMgM2H: 24 },
    heater: warming(21, 3),
    animals: { restMgH: 150, feedingShare: 0.6 },
  }),
  // The tray: shallow, so that a heater left on in it is dangerous. Its thermostat is set so low that it stays off.
  tank({
    ...own,
    id: 't1',
    line: 'broodstock',
    stage: 'spawning',
    volumeL: 75,
    depthM: 0.12,
    drainLMin: 30,
    fillLMin: 25,
    bubblesPerH: 2,
    heater: warming(5, 1.2),
    animals: { restMgH: 12, feedingShare: 0 },
  }),
  tank({
    ...own,
    id: 'e1',
    line: 'broodstock',
    stage: 'embryo',
    volumeL: 200,
    heater: warming(21.5, 0.4),
    animals: { restMgH: 3, feedingShare: 0 },
  }),
  ...(['l1', 'l2', 'l3'] as const).map((id) =>
    tank({
      ...own,
      id,
      volumeL: 400,
      drainLMin: 60,
      heater: warming(25, 1),
      animals: { restMgH: 18, feedingShare: 0.4 },
    }),
  ),
  tank({
    ...own,
    id: 's1',
    stage: 'setting',
    volumeL: 250,
    heater: warming(23, 0.8),
    animals: { restMgH: 14, feedingShare: 0.4 },
  }),
  tank({
    ...own,
    id: 'p1',
    stage: 'post-set',
    volumeL: 300,
    heater: warming(22.5, 0.8),
    animals: { restMgH: 14, feedingShare: 0.4 },
  }),
];

const board = (id: string, periodS: number, tanks: readonly Tank[]): Board => ({
  id,
  circuit: 'mains',
  periodS,
  phaseS: 0,
  form: 'senml-json',
  stamps: 'seconds',
  clockAheadMs: 0,
  holds: 0,
  probes: tanks.flatMap((one) => probesIn(one.id, one.depthM / 4, WATER)),
});

/** The tray is read every minute, as a run wants it; the others every five. */
const BOARDS: readonly Board[] = [
  board(
    'tray-1',
    60,
    TANKS.filter(({ id }) => id === 't1'),
  ),
  board(
    'hall-1',
    300,
    TANKS.filter(({ id }) => id !== 't1'),
  ),
];

const line = (id: string, warmedToC: number): Line => ({
  id,
  circuit: 'mains',
  sea: { meanC: 17, dayC: 0.3, tideC: 0.3, salinity: 33, tideSalinity: 0.2, perMmRunoff: 0.02 },
  headerL: 2500,
  headerDepthM: 1.2,
  pumpLMin: 80,
  warmedToC,
  oxygenShare: 0.97,
});

export const oneBatch = (seed: number): Hatchery => ({
  site: { id: 'wrack-cove', name: 'Wrack Cove Hatchery' },
  seed,
  climate: { seed, meanC: 15, dayC: 4, spellC: 2, sunHours: 0, wetness: 0.2 },
  rooms: [{ id: 'hall', circuit: 'mains', heatedToC: 21, holdH: 9, sunC: 1, pumpsC: 1 }],
  circuits: ['mains'],
  airMains: [{ id: 'air', circuit: 'mains' }],
  // Larvae go back into water of their own warmth: a tank is refilled at 25 °C, not heated up with them inside.
  lines: [line('broodstock', 20.8), line('larval', 25)],
  tanks: TANKS,
  boards: BOARDS,
});

/** What the people have entered of it. Every tank starts empty: animals, and with them limits, come by the log. */
export const oneBatchTold = (plant: Hatchery): Told => ({
  site: { id: 'wrack-cove-7k2q', name: plant.site.name, zone: 'UTC', temperatureUnit: 'C', hours: 24 },
  places: [
    { id: 'broodstock', kind: 'line', name: 'Broodstock line', order: 0 },
    { id: 'larval', kind: 'line', name: 'Larval line', order: 1 },
    ...plant.tanks.map(
      ({ id, line: lineId, volumeL, depthM, regime, flowLMin, heater, bed }, order): Place => ({
        id,
        kind: 'tank',
        name: id.toUpperCase(),
        order,
        lineId,
        volumeL,
        depthM,
        regime,
        aerated: true,
        stage: 'empty',
        ...(flowLMin > 0 ? { flowLMin } : {}),
        ...(heater === undefined || id === 't1' ? {} : { heaterW: heater.powerKw * 1000 }),
        ...(bed.kind === 'none' ? {} : { bed: { kind: bed.kind, depthM: bed.depthM } }),
      }),
    ),
  ],
  mappings: BOARDS.flatMap(({ id, periodS, probes }) =>
    probes.map(({ place, quantity }) => ({ place, quantity, board: id, periodMs: periodS * 1000 })),
  ).map(({ place, quantity, ...board }, index) => ({
    sourceId: index + 1,
    channelId: makeChannelId({ placeId: place.kind === 'tank' ? place.id : '', quantity }),
    unit: UNIT[quantity],
    fromMs: 0,
    ruling: true,
    ...board,
  })),
  calibrations: [],
});
