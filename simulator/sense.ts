import { type Event, ofKind } from './event.js';
import { type Hatchery, type HatcheryState, known, named } from './hatchery.js';
import { type Place, type Probe, placeName, type Quantity, type Truth } from './probe.js';
import { conductivityFromSalinity, oxygenAtSaturation } from './seawater.js';
import { depthOf, type Tank } from './tank.js';
import type { Water } from './water.js';

/** What a wet film leaves on a cell in air, mS/cm and practical salinity. */
const FILM_MS_CM = 0.03;
const FILM_SALINITY = 0.02;

/** What is there for a probe to read at this moment: the water at its height, or air. */
export const truthOf = (probe: Probe, hatchery: Hatchery, state: HatcheryState, events: readonly Event[]): Truth => {
  switch (probe.place.kind) {
    case 'air-main':
      return contact(known(state.airMainOn, probe.place.id));
    case 'circuit':
      return contact(known(state.circuitOn, probe.place.id));
    case 'header':
      return headerTruth(probe, probe.place.line, hatchery, state);
    case 'tank': {
      const tank = named(hatchery.tanks, probe.place.id);
      return tankTruth(
        probe,
        tank,
        known(state.water, tank.id),
        known(state.roomC, tank.room),
        isLifted(probe, events),
      );
    }
  }
};

/** One water as a point sees it. */
type Spot = { readonly temperatureC: number; readonly salinity: number; readonly oxygenMgL: number };

const tankTruth = (probe: Probe, tank: Tank, water: Water, roomC: number, lifted: boolean): Truth => {
  const depthM = depthOf(water.volumeL, tank);
  const calm = !water.airOn && water.inflowLMin === 0;
  if (probe.quantity === 'level') return { value: depthM, inAir: false, calm };
  if (probe.quantity === 'flow') return { value: water.inflowLMin, inAir: false, calm };
  if (probe.quantity === 'contact') return contact(water.heaterOn);
  if (lifted || depthM < probe.heightM) return { value: inAir(probe, roomC), inAir: true, calm };
  const layer = probe.heightM > depthM / 2 ? 'upper' : 'lower';
  const spot = {
    temperatureC: water.temperatureC[layer],
    salinity: water.salinity,
    oxygenMgL: water.oxygenMgL[layer],
  };
  return { value: inWater(probe, spot), inAir: false, calm };
};

const headerTruth = (probe: Probe, lineId: string, hatchery: Hatchery, state: HatcheryState): Truth => {
  const line = named(hatchery.lines, lineId);
  const supply = known(state.supply, lineId);
  const depthM = (supply.headerL / line.headerL) * line.headerDepthM;
  if (probe.quantity === 'level') return { value: depthM, inAir: false, calm: false };
  if (probe.quantity === 'flow') return { value: supply.drawnLMin, inAir: false, calm: false };
  if (depthM < probe.heightM) return { value: inAir(probe, supply.temperatureC), inAir: true, calm: true };
  const { temperatureC, salinity } = supply;
  const oxygenMgL = line.oxygenShare * oxygenAtSaturation(temperatureC, salinity);
  return { value: inWater(probe, { temperatureC, salinity, oxygenMgL }), inAir: false, calm: false };
};

const contact = (closed: boolean): Truth => ({ value: closed ? 1 : 0, inAir: false, calm: false });

const isLifted = (probe: Probe, events: readonly Event[]): boolean =>
  ofKind(events, 'probe-lifted').some(
    ({ place, quantity }) =>
      place === placeName(probe.place) && (quantity === undefined || quantity === probe.quantity),
  );

/** An oxygen meter works out mg/L from what its membrane feels, with the salinity it was told. */
const inWater = (probe: Probe, { temperatureC, salinity, oxygenMgL }: Spot): number => {
  const share = oxygenMgL / oxygenAtSaturation(temperatureC, salinity);
  const values: ByWaterQuantity = {
    temperature: temperatureC,
    salinity,
    conductivity: conductivityFromSalinity(salinity, temperatureC),
    'oxygen-saturation': 100 * share,
    'oxygen-mg-l': share * oxygenAtSaturation(temperatureC, probe.setSalinity ?? salinity),
  };
  return values[waterQuantity(probe.quantity)];
};

const inAir = (probe: Probe, airC: number): number => {
  const values: ByWaterQuantity = {
    temperature: airC,
    salinity: FILM_SALINITY,
    conductivity: FILM_MS_CM,
    'oxygen-saturation': 100,
    'oxygen-mg-l': oxygenAtSaturation(airC, probe.setSalinity ?? 0),
  };
  return values[waterQuantity(probe.quantity)];
};

type WaterQuantity = Exclude<Quantity, 'level' | 'flow' | 'contact'>;
type ByWaterQuantity = { readonly [quantity in WaterQuantity]: number };

const waterQuantity = (quantity: Quantity): WaterQuantity => {
  if (quantity === 'level' || quantity === 'flow' || quantity === 'contact')
    throw new Error(`${quantity} is not of water`);
  return quantity;
};

/** Whether a place is one that a hatchery has; for checking a world when it is written. */
export const hasPlace = (hatchery: Hatchery, place: Place): boolean => {
  switch (place.kind) {
    case 'tank':
      return hatchery.tanks.some(({ id }) => id === place.id);
    case 'header':
      return hatchery.lines.some(({ id }) => id === place.line);
    case 'air-main':
      return hatchery.airMains.some(({ id }) => id === place.id);
    case 'circuit':
      return hatchery.circuits.includes(place.id);
  }
};
