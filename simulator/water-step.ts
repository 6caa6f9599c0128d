import type { Tank } from './tank.js';
import type { Surroundings, Water } from './water.js';
import { stepHeat } from './water-heat.js';
import { type Flows, flowsOf, secondsToBound, stepLevel } from './water-level.js';
import { stepFood, stepOxygen } from './water-oxygen.js';

/**
 * The water `dtS` seconds later. A step during which the tank runs full or empty is cut at that moment, because other
 * flows hold from there on.
 */
export const stepWater = (water: Water, tank: Tank, around: Surroundings, dtS: number): Water => {
  const opened = around.drainLMin > 0 && !water.filling ? { ...water, filling: true } : water;
  const flows = flowsOf(opened, tank, around);
  const untilS = secondsToBound(opened, tank, flows);
  if (untilS >= dtS) return stepAll(opened, tank, around, flows, dtS);
  return stepWater(stepAll(opened, tank, around, flows, untilS), tank, around, dtS - untilS);
};

const stepAll = (water: Water, tank: Tank, around: Surroundings, flows: Flows, dtS: number): Water => {
  const level = stepLevel(water, tank, around, flows, dtS);
  const heat = stepHeat(water, tank, around, level.balance, dtS);
  const fed = stepFood(water, around, dtS);
  const oxygenMgL = stepOxygen(water, tank, around, level.balance, dtS);
  return { ...level.water, ...heat, ...fed, oxygenMgL, airOn: around.airOn };
};
