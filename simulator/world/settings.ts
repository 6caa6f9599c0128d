import type { Site } from '../../rules/hatchery.js';
import { type Book, lotsIn } from '../../rules/log/book.js';
import { recordOf } from '../../rules/log/record.js';
import type { OwnWants, Place as SetPlace } from '../../rules/place.js';
import { isStage } from '../../rules/stage/stage.js';
import type { SimulatedSource } from '../../rules/wire/simulated.js';
import { type Hatchery, named } from '../hatchery.js';
import { sourceKey, sourceOf } from '../payload.js';
import type { Place } from '../probe.js';
import type { Tank } from '../tank.js';
import { demoLog } from './demo-log.js';
import { lookedAt } from './looked-beds.js';
import { LINE_NAMES } from './saltmarsh-lane.js';

/**
 * What the people of the invented hatchery have told Nightwater about it: what a real one would type in, and no more.
 * Their own lines, which they stand by, are narrower than any profile's.
 */
const DAY_MS = 86_400_000;

const around = (middle: number, target: number, limit: number): OwnWants => ({
  targetLow: round(middle - target),
  targetHigh: round(middle + target),
  limitLow: round(middle - limit),
  limitHigh: round(middle + limit),
  confirmed: true,
});

const round = (value: number): number => Math.round(value * 10) / 10;

const temperatureWants = (tank: Tank, hatchery: Hatchery): OwnWants => {
  const set = tank.heater?.setC ?? tank.chiller?.setC;
  if (set === undefined) return around(named(hatchery.lines, tank.line).sea.meanC, 3, 6);
  const isLarval = tank.line === 'larval';
  return {
    ...around(set, isLarval ? 1.4 : 1.8, isLarval ? 2.5 : 4),
    ...(isLarval ? { onDelayMs: 60_000, ceilingHigh: 30 } : {}),
  };
};

const OXYGEN: OwnWants = { targetLow: 80, targetHigh: 108, limitLow: 60, limitHigh: 118, confirmed: true };

/** Since when an empty tank of this hatchery has been so. */
const LONG_MS = 21 * DAY_MS;

const tankPlace = (tank: Tank, order: number, { hatchery, book, nowMs }: Known): SetPlace => {
  const { salinity } = named(hatchery.lines, tank.line).sea;
  const [lot] = lotsIn(book, tank.id.toLowerCase());
  return {
    id: tank.id.toLowerCase(),
    kind: 'tank',
    name: tank.id,
    order,
    lineId: tank.line,
    airMainId: tank.airMain,
    roomId: tank.room,
    circuitId: tank.heater?.circuit ?? tank.chiller?.circuit ?? named(hatchery.airMains, tank.airMain).circuit,
    volumeL: tank.volumeL,
    depthM: tank.depthM,
    regime: tank.regime,
    aerated: true,
    ...(tank.flowLMin > 0 ? { flowLMin: tank.flowLMin } : {}),
    ...(tank.heater === undefined ? {} : { heaterW: tank.heater.powerKw * 1000 }),
    ...(tank.bed.kind === 'none'
      ? {}
      : {
          bed: {
            kind: tank.bed.kind,
            depthM: tank.bed.depthM,
            cleanedAtMs: nowMs - 2.5 * DAY_MS,
            ...lookedAt(tank.id, nowMs),
          },
        }),
    ...(isStage(tank.stage) ? { stage: tank.stage } : {}),
    stageSinceMs: lot?.stageSinceMs ?? Math.round(nowMs - LONG_MS),
    speciesGroup: tank.speciesGroup,
    ...(lot === undefined ? {} : { batch: lot.batchId }),
    wants: {
      temperature: temperatureWants(tank, hatchery),
      salinity: around(salinity, 1.6, 4),
      'oxygen-saturation': OXYGEN,
      // One oxygen line is enough: mg/L is shown, and judged as saturation.
      'oxygen-mg-l': { unwatched: true },
    },
  };
};

type Known = { readonly hatchery: Hatchery; readonly book: Book; readonly nowMs: number };

/** What stands in the settings of a tank about its animals follows the log, as it does in a real hatchery. */
export const describedPlaces = (
  hatchery: Hatchery,
  nowMs: number,
  book: Book = recordOf(demoLog(hatchery, nowMs).entries).stock.book,
): readonly SetPlace[] => [
  ...hatchery.lines.map(({ id }, order): SetPlace => ({ id, kind: 'line', name: LINE_NAMES[id] ?? id, order })),
  ...hatchery.rooms.map(({ id }, order): SetPlace => ({ id, kind: 'room', name: spoken(id), order })),
  ...hatchery.airMains.map(({ id }, order): SetPlace => ({ id, kind: 'air-main', name: spoken(id), order })),
  ...hatchery.circuits.map((id, order): SetPlace => ({ id, kind: 'circuit', name: spoken(id), order })),
  ...hatchery.tanks.map((tank, order) => tankPlace(tank, order, { hatchery, book, nowMs })),
];

const spoken = (id: string): string => `${id.charAt(0).toUpperCase()}${id.slice(1).replaceAll('-', ' ')}`;

const placeId = (place: Place): string => {
  switch (place.kind) {
    case 'tank':
      return place.id.toLowerCase();
    case 'header':
      return place.line;
    case 'air-main':
    case 'circuit':
      return place.id;
  }
};

/** The unit that each quantity goes out in where the payload does not state it. */
const SENT_IN: { readonly [quantity: string]: string } = {
  temperature: 'degC',
  conductivity: 'mS/cm',
  salinity: 'psu',
  'oxygen-mg-l': 'mg/L',
  'oxygen-saturation': '%',
  level: 'm',
  flow: 'L/min',
  contact: 'on/off',
};

/** SenML's own for what has no unit to state. */
const unitOf = (quantity: string, stated: string | undefined): string => stated ?? SENT_IN[quantity] ?? '1';

export const describedSources = (hatchery: Hatchery): readonly SimulatedSource[] =>
  hatchery.boards.flatMap((board) =>
    board.probes.map((probe) => {
      const source = sourceOf(board, probe);
      return {
        key: sourceKey(source),
        topic: source.topic,
        ...(source.member === undefined ? {} : { pointer: source.member }),
        ...(board.form === 'bare' ? {} : { board: board.id }),
        ...(source.unit === undefined ? {} : { statedUnit: source.unit }),
        channelId: `${placeId(probe.place)}.${probe.quantity}`,
        unit: unitOf(probe.quantity, source.unit),
        periodMs: board.periodS * 1000,
      };
    }),
  );

export const describedSite = (hatchery: Hatchery): Omit<Site, 'id'> => ({
  name: hatchery.site.name,
  zone: 'Etc/UTC',
  temperatureUnit: 'C',
  hours: 24,
});
