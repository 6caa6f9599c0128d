import { makeChannelId } from '../../rules/channel.js';
import type { Mapping, Hatchery as Told } from '../../rules/hatchery.js';
import type { Place } from '../../rules/place.js';
import { UNIT } from '../../rules/quantity.js';
import { isStage } from '../../rules/stage/stage.js';
import type { Hatchery } from '../hatchery.js';
import type { Probe } from '../probe.js';
import type { Random } from '../random.js';
import type { Tank } from '../tank.js';

/** What the people of the hatchery have entered: near the truth where they know it, and not everywhere. */
const VOLUME_OFF = 0.07;
const FLOW_OFF = 0.2;
const NOT_ENTERED_SHARE = 0.08;
const DAY_MS = 86_400_000;

const near = (value: number, off: number, random: Random, step: number): number =>
  Math.max(step, Math.round((value * (1 + random.normal(0, off))) / step) * step);

/** Heaters have their power printed on them; the mains and scale on the rod decide what they really give. */
const PLATES_W = [100, 200, 300, 500, 750, 1000, 1500, 2000, 3000, 4500, 6000, 9000, 12_000];

const plateOf = (powerKw: number): number =>
  PLATES_W.reduce((best, plate) => (Math.abs(plate - powerKw * 1040) < Math.abs(best - powerKw * 1040) ? plate : best));

const tankTold = (tank: Tank, order: number, atMs: number, random: Random): Place => {
  const isEntered = (): boolean => !random.chance(NOT_ENTERED_SHARE);
  const volumeL = near(tank.volumeL, VOLUME_OFF, random, 5);
  const flowLMin = near(Math.max(0.1, tank.flowLMin), FLOW_OFF, random, 0.1);
  const depthM = near(tank.depthM, 0.05, random, 0.01);
  return {
    id: tank.id,
    kind: 'tank',
    name: tank.id.toUpperCase(),
    order,
    lineId: tank.line,
    airMainId: tank.airMain,
    circuitId: tank.heater?.circuit ?? 'mains-a',
    roomId: tank.room,
    regime: tank.regime,
    ...(isEntered() ? { volumeL } : {}),
    depthM,
    ...(tank.flowLMin > 0 && isEntered() ? { flowLMin } : {}),
    ...(tank.heater !== undefined && isEntered() ? { heaterW: plateOf(tank.heater.powerKw) } : {}),
    ...(tank.chiller === undefined ? {} : { chilled: true }),
    aerated: tank.stage !== 'embryo',
    ...(tank.bed.kind === 'none'
      ? {}
      : { bed: { kind: tank.bed.kind, depthM: tank.bed.depthM, porosity: 0.4, cleanedAtMs: atMs - 2 * DAY_MS } }),
    ...(isStage(tank.stage) ? { stage: tank.stage } : {}),
    stageSinceMs: atMs - 3 * DAY_MS,
    speciesGroup: tank.speciesGroup,
  };
};

const placeIdOf = ({ place }: Probe): string => (place.kind === 'header' ? place.line : place.id);

export const sourcesOf = (
  plant: Hatchery,
): readonly { readonly probe: Probe; readonly board: string; readonly periodMs: number }[] =>
  plant.boards.flatMap(({ id, probes, periodS }) =>
    probes.map((probe) => ({ probe, board: id, periodMs: periodS * 1000 })),
  );

/** Sources are numbered from 1 in the order of boards and probes. */
const mappingsOf = (plant: Hatchery): readonly Mapping[] =>
  sourcesOf(plant).map(({ probe, board, periodMs }, index) => ({
    sourceId: index + 1,
    channelId: makeChannelId({ placeId: placeIdOf(probe), quantity: probe.quantity }),
    unit: UNIT[probe.quantity],
    fromMs: 0,
    ruling: true,
    periodMs,
    board,
  }));

/** The settings by which the watch judges: nothing in them that a real hatchery would not know. */
export const toldOf = (plant: Hatchery, random: Random, atMs: number): Told => {
  const plain = (kind: Place['kind'], order: number) => (id: string) => ({ id, kind, name: id, order });
  return {
    site: { id: 'wrack-cove-night', name: 'Wrack Cove', zone: 'UTC', temperatureUnit: 'C', hours: 24 },
    places: [
      ...plant.lines.map((line, order): Place => ({ ...plain('line', order)(line.id), circuitId: line.circuit })),
      ...plant.airMains.map(
        (main, order): Place => ({ ...plain('air-main', order)(main.id), circuitId: main.circuit }),
      ),
      ...plant.circuits.map((id, order): Place => plain('circuit', order)(id)),
      ...plant.rooms.map((room, order): Place => plain('room', order)(room.id)),
      ...plant.tanks.map((tank, order) => tankTold(tank, order, atMs, random.fork(tank.id))),
    ],
    mappings: mappingsOf(plant),
    calibrations: [],
    boards: plant.boards.map(({ id, circuit }) => ({ id, circuitId: circuit })),
  };
};
