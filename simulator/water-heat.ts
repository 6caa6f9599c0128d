import { meanOf, type Pair, stepPair } from './linear-step.js';
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

type Heat = Pick<Water, 'temperatureC' | 'heaterOn' | 'chillerOn'>;

/** Heater, chiller, room, evaporation and inflow, in two layers. */
export const stepHeat = (water: Water, tank: Tank, around: Surroundings, balance: WaterBalance, dtS: number): Heat => {
  const capacityKJK = heatCapacityKJPerLK(water.salinity) * balance.volumeL;
  const covered = depthOf(water.volumeL, tank) > HEATER_UNDER_WATER * tank.depthM;
  const meanC = meanOf(water.temperatureC);
  const dtH = dtS / 3600;
  const heater = worked(tank.heater, around.heater, water.heaterOn, meanC, 1, capacityKJK, dtH);
  const chiller = worked(tank.chiller, around.chiller, water.chillerOn, meanC, -1, capacityKJK, dtH);
  const heatKJH = covered ? heater.kjH : 0;
  const coldKJH = covered ? chiller.kjH : 0;
  const layerKJK = capacityKJK / 2;
  const wall = wallWK(water, tank);
  const upperLoss = (3.6 * (SURFACE_W_PER_M2_K * surfaceM2(tank) * tank.openShare + wall.upper)) / layerKJK;
  const lowerLoss = (3.6 * wall.lower) / layerKJK;
  const inflow = balance.dilutionPerH * around.supply.temperatureC;
  const vapourKJH = balance.vapourLMin * 60 * LATENT_KJ_PER_L;
  const upperKJH = HEATER_UPWARD * heatKJH - coldKJH / 2 - vapourKJH;
  const lowerKJH = (1 - HEATER_UPWARD) * heatKJH - coldKJH / 2;
  const temperatureC = stepPair(
    water.temperatureC,
    {
      gain: {
        upper: inflow + upperLoss * around.roomC + upperKJH / layerKJK,
        lower: inflow + lowerLoss * around.roomC + lowerKJH / layerKJK,
      },
      loss: { upper: balance.dilutionPerH + upperLoss, lower: balance.dilutionPerH + lowerLoss },
      exchangePerH: stirringPerH(water.temperatureC, around, balance),
    },
    dtH,
  );
  return { temperatureC, heaterOn: heater.on, chillerOn: chiller.on };
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

/** Watts per kelvin through the wetted wall of each layer, and the floor for the lower. 3.8 lies between round and square. */
const wallWK = (water: Water, tank: Tank): Pair => {
  const area = surfaceM2(tank);
  const layerM2 = (3.8 * Math.sqrt(area) * depthOf(water.volumeL, tank)) / 2;
  return { upper: tank.wallWPerM2K * layerM2, lower: tank.wallWPerM2K * (layerM2 + 0.5 * area) };
};
