import { meanOf, type Pair, type PairRates, stepPair } from './linear-step.js';
import { heatCapacityKJPerLK } from './seawater.js';
import { depthOf, surfaceM2, type Tank, type Thermostat } from './tank.js';
import type { Surroundings, Switch, Water } from './water.js';
import type { WaterBalance } from './water-level.js';

/** Watts through a square metre of bare surface and kelvin, without evaporation (practice, no source). */
const SURFACE_W_PER_M2_K = 8;
const LATENT_KJ_PER_L = 2450;
/** Below this share of its depth the tank leaves its heater dry, and the heat goes elsewhere. */
const HEATER_UNDER_WATER = 0.25;
/** Warm water rises from the heater: this share of its heat arrives in the upper layer. */
const HEATER_UPWARD = 0.6;
/** A floor on its stand loses half of what a wall does. */
const FLOOR_SHARE = 0.5;

type Heat = Pick<Water, 'temperatureC' | 'heaterOn' | 'chillerOn'>;

/** Heater, chiller, room, evaporation and inflow, in two layers. */
export const stepHeat = (water: Water, tank: Tank, around: Surroundings, balance: WaterBalance, dtS: number): Heat => {
  const capacityKJK = heatCapacityKJPerLK(water.salinity) * balance.volumeL;
  const meanC = meanOf(water.temperatureC);
  const dtH = dtS / 3600;
  const heater = worked(tank.heater, around.heater, water.heaterOn, meanC, 1, capacityKJK, dtH);
  const chiller = worked(tank.chiller, around.chiller, water.chillerOn, meanC, -1, capacityKJK, dtH);
  const given = givenKJH(water, tank, balance, heater.kjH, chiller.kjH);
  const layerKJK = capacityKJK / 2;
  const loss = roomLossPerH(water, tank, layerKJK);
  const inflow = balance.dilutionPerH * around.supply.temperatureC;
  const rates: PairRates = {
    gain: {
      upper: inflow + loss.upper * around.roomC + given.upper / layerKJK,
      lower: inflow + loss.lower * around.roomC + given.lower / layerKJK,
    },
    loss: { upper: balance.dilutionPerH + loss.upper, lower: balance.dilutionPerH + loss.lower },
    exchangePerH: stirringPerH(water.temperatureC, around, balance),
  };
  return {
    temperatureC: stepPair(water.temperatureC, rates, dtH),
    heaterOn: heater.on,
    chillerOn: chiller.on,
  };
};

/** How often per hour the layers swap their water: bubbles, through-flow, and water that is warmer below. */
export const stirringPerH = (temperatureC: Pair, around: Surroundings, balance: WaterBalance): number => {
  const topHeavy = Math.min(1, Math.max(0, temperatureC.lower - temperatureC.upper) / 0.1);
  return (around.airOn ? 80 : 0.4) + 2 * balance.dilutionPerH + 60 * topHeavy;
};

type Work = { readonly kjH: number; readonly on: boolean };

/**
 * The heat a device gives over the step. A thermostat that would switch off within it works for the right share only:
 * without that, a long step would overshoot and the step size would show in the record.
 */
const worked = (
  device: Thermostat | undefined,
  control: Switch,
  wasOn: boolean,
  meanC: number,
  sign: 1 | -1,
  capacityKJK: number,
  dtH: number,
): Work => {
  if (device === undefined || control === 'off') return { kjH: 0, on: false };
  const fullKJH = device.powerKw * 3600;
  if (control === 'on') return { kjH: fullKJH, on: true };
  const missingC = sign * (device.setC - meanC);
  const on = missingC > device.bandC / 2 || (wasOn && missingC > -device.bandC / 2);
  if (!on) return { kjH: 0, on: false };
  const toOffKJ = (missingC + device.bandC / 2) * capacityKJK;
  const share = Math.min(1, toOffKJ / (fullKJH * dtH));
  return { kjH: share * fullKJH, on: share === 1 };
};

/** Heat into each layer, kJ/h: what heater and chiller give while they hang in water, and what evaporation takes. */
const givenKJH = (water: Water, tank: Tank, balance: WaterBalance, heatKJH: number, coldKJH: number): Pair => {
  const covered = depthOf(water.volumeL, tank) > HEATER_UNDER_WATER * tank.depthM ? 1 : 0;
  const vapourKJH = balance.vapourLMin * 60 * LATENT_KJ_PER_L;
  return {
    upper: covered * (HEATER_UPWARD * heatKJH - coldKJH / 2) - vapourKJH,
    lower: covered * ((1 - HEATER_UPWARD) * heatKJH - coldKJH / 2),
  };
};

/**
 * Share of its difference from the room that each layer loses per hour: through its wetted wall, the upper through the
 * surface, the lower through the floor. 3.8 lies between the girth of a round and of a square tank.
 */
const roomLossPerH = (water: Water, tank: Tank, layerKJK: number): Pair => {
  const area = surfaceM2(tank);
  const wallM2 = (3.8 * Math.sqrt(area) * depthOf(water.volumeL, tank)) / 2;
  const upperWK = tank.wallWPerM2K * wallM2 + SURFACE_W_PER_M2_K * area * tank.openShare;
  const lowerWK = tank.wallWPerM2K * (wallM2 + FLOOR_SHARE * area);
  return { upper: (3.6 * upperWK) / layerKJK, lower: (3.6 * lowerWK) / layerKJK };
};
