import { meanOf, type Pair, stepPair, stepSingle } from './linear-step.js';
import { oxygenAtSaturation } from './seawater.js';
import { surfaceM2, type Tank } from './tank.js';
import type { Surroundings, Water } from './water.js';
import { stirringPerH } from './water-heat.js';
import type { WaterBalance } from './water-level.js';

/** At this oxygen animals and bacteria take half of what they would take with plenty, mg/L (placeholder). */
const HALF_MG_L = 0.9;
const BED_HALF_MG_L = 0.6;
/** Animals keep to the floor when nothing stirs: this share of their uptake is then in the lower layer. */
const SETTLED_SHARE = 0.7;
/** Share of a meal eaten or rotted per hour, and what the rotting of a full meal takes, mg/L and hour. */
const FOOD_GONE_PER_H = 0.35;
const FOOD_TAKES_MG_L_H = 0.12;
/** Algae take this share of what they make in full light, day and night (practice, no source). */
const ALGAE_BREATHE_SHARE = 0.15;
/** A washed bed stays near load 1; what has gathered in it is worked off this fast, per hour. */
const LOAD_GONE_PER_H = 0.01;

/** Air, surface, inflow, light; animals, food and bed. Uptake fades with the oxygen itself, so that it cannot pass zero. */
export const stepOxygen = (
  water: Water,
  tank: Tank,
  around: Surroundings,
  balance: WaterBalance,
  dtS: number,
): Pair => {
  const volumeL = balance.volumeL;
  const gas = gasExchange(water, tank, around, volumeL);
  const uptake = uptakePerH(water, tank, around, volumeL);
  const made = tank.algaeMgLH * around.light;
  const inflow = balance.dilutionPerH * around.supply.oxygenMgL;
  const saturated = {
    upper: oxygenAtSaturation(water.temperatureC.upper, water.salinity),
    lower: oxygenAtSaturation(water.temperatureC.lower, water.salinity),
  };
  return stepPair(
    water.oxygenMgL,
    {
      gain: {
        upper: inflow + made + gas.upper * saturated.upper,
        lower: inflow + made + gas.lower * saturated.lower,
      },
      loss: {
        upper: balance.dilutionPerH + gas.upper + uptake.upper,
        lower: balance.dilutionPerH + gas.lower + uptake.lower,
      },
      exchangePerH: stirringPerH(water.temperatureC, around, balance),
    },
    dtS / 3600,
  );
};

/** Food goes in and goes away; what is not eaten gathers in the bed with the droppings. */
export const stepFood = (water: Water, around: Surroundings, dtS: number): Pick<Water, 'food' | 'bedLoad'> => ({
  food: stepSingle(water.food, around.feedingPerH, FOOD_GONE_PER_H, dtS / 3600),
  bedLoad: stepSingle(water.bedLoad, LOAD_GONE_PER_H + around.foulingPerH, LOAD_GONE_PER_H, dtS / 3600),
});

/** Per hour in each layer. Bubbles reach both, the surface only the upper; a straight line of temperature, not a power. */
const gasExchange = (water: Water, tank: Tank, around: Surroundings, volumeL: number): Pair => {
  const warmth = Math.max(0.3, 1 + 0.021 * (meanOf(water.temperatureC) - 20));
  const bubbles = around.airOn ? tank.bubblesPerH * warmth : 0;
  const surface = (tank.surfaceMPerH * surfaceM2(tank) * warmth) / (volumeL / 2000);
  return { upper: bubbles + surface, lower: bubbles };
};

/** Uptake as a rate on the oxygen there is, per hour in each layer. */
const uptakePerH = (water: Water, tank: Tank, around: Surroundings, volumeL: number): Pair => {
  const layerL = volumeL / 2;
  const meanC = meanOf(water.temperatureC);
  const fedShare = water.food / (water.food + 0.3);
  const animals = tank.animals.restMgH * activity(meanC) * (1 + tank.animals.feedingShare * fedShare);
  const below = around.airOn ? 0.5 : SETTLED_SHARE;
  const rotting = FOOD_TAKES_MG_L_H * water.food;
  const algae = ALGAE_BREATHE_SHARE * tank.algaeMgLH;
  const bedMgLH = bedMgH(tank, water) / layerL;
  const { upper, lower } = water.oxygenMgL;
  return {
    upper: ((animals * (1 - below)) / layerL + rotting + algae) / (upper + HALF_MG_L),
    lower: ((animals * below) / layerL + rotting + algae) / (lower + HALF_MG_L) + bedMgLH / (lower + BED_HALF_MG_L),
  };
};

const bedMgH = (tank: Tank, water: Water): number =>
  tank.bed.kind === 'none'
    ? 0
    : tank.bed.uptakeMgM2H * surfaceM2(tank) * water.bedLoad * Math.exp(0.09 * (water.temperatureC.lower - 20));

/** Rises with warmth and falls off again in heat that the animals do not stand; 1 at 20 °C. */
const activity = (temperatureC: number): number =>
  Math.exp(0.072 * (temperatureC - 20)) / (1 + Math.exp(1.4 * (temperatureC - 33)));
