import { type Event, type EventOf, ofKind } from './event.js';
import { type Hatchery, type HatcheryState, known, named } from './hatchery.js';
import { meanOf } from './linear-step.js';
import { inflowFrom } from './supply.js';
import type { Tank, Thermostat } from './tank.js';
import type { Inflow, Surroundings, Switch, Water } from './water.js';
import type { Weather } from './weather.js';

/** What acts on a tank now, from the state of rooms, mains and lines and from the events in force. */
export const surroundingsOf = (
  hatchery: Hatchery,
  state: HatcheryState,
  tank: Tank,
  events: readonly Event[],
  weather: Weather,
): Surroundings => {
  const mine = events.filter((event) => 'tank' in event && event.tank === tank.id);
  const has = (kind: Event['kind']): boolean => mine.some((event) => event.kind === kind);
  const stuck = has('heater-stuck-on');
  return {
    roomC: known(state.roomC, tank.room),
    humidity: weather.humidity,
    light: weather.light,
    ...supplied(hatchery, state, tank, mine),
    drainLMin: has('drain-down') ? tank.drainLMin : 0,
    leakLMin: ofKind(mine, 'leak').reduce((sum, { lMin }) => sum + lMin, 0),
    airOn: known(state.airMainOn, tank.airMain) && !has('air-stone-blocked'),
    heater: switchOf(tank.heater, state, stuck, has('heater-dead')),
    chiller: switchOf(tank.chiller, state, false, has('chiller-off')),
    feedingPerH: ofKind(mine, 'feeding').reduce((sum, event) => sum + mealsPerH(event), 0),
    foulingPerH: ofKind(mine, 'bed-fouling').reduce((sum, { loadPerH }) => sum + loadPerH, 0),
  };
};

type Supplied = Pick<Surroundings, 'supply' | 'flowLMin' | 'fillLMin'>;

const supplied = (hatchery: Hatchery, state: HatcheryState, tank: Tank, mine: readonly Event[]): Supplied => {
  const header = inflowFrom(known(state.supply, tank.line), named(hatchery.lines, tank.line));
  if (header === undefined) return { supply: ownWater(known(state.water, tank.id)), flowLMin: 0, fillLMin: 0 };
  const shut = mine.some((event) => event.kind === 'flow-off');
  const change = ofKind(mine, 'water-change')[0];
  const flowLMin = shut ? 0 : tank.flowLMin;
  if (change === undefined) return { supply: header, flowLMin, fillLMin: tank.fillLMin };
  const temperatureC = change.temperatureC ?? header.temperatureC;
  return { supply: { ...header, temperatureC }, flowLMin: flowLMin + change.lMin, fillLMin: tank.fillLMin };
};

/** Stands in for a supply that gives nothing. */
const ownWater = (water: Water): Inflow => ({
  temperatureC: meanOf(water.temperatureC),
  salinity: water.salinity,
  oxygenMgL: meanOf(water.oxygenMgL),
});

const switchOf = (device: Thermostat | undefined, state: HatcheryState, stuck: boolean, dead: boolean): Switch => {
  if (device === undefined || dead || !known(state.circuitOn, device.circuit)) return 'off';
  return stuck ? 'on' : 'thermostat';
};

const mealsPerH = ({ meals, fromMs, toMs }: EventOf<'feeding'>): number => (meals * 3_600_000) / (toMs - fromMs);
