import { BED_CALCULATIONS } from './bed.js';
import type { Calculation } from './calculation.js';
import { FEEDING_CALCULATIONS } from './feeding.js';
import { MIXING_CALCULATIONS } from './mixing.js';
import { OXYGEN_BUDGET_CALCULATIONS } from './oxygen-budget.js';
import { OXYGEN_UPTAKE_CALCULATIONS } from './oxygen-uptake.js';
import { SEAWATER_CALCULATIONS } from './seawater.js';
import { STOCK_CALCULATIONS } from './stock.js';
import { TANK_WATER_CALCULATIONS } from './tank-water.js';

/** Everything that `nightwater calc` can work out, in the order of the list it prints. */
export const CALCULATIONS: readonly Calculation[] = [
  ...SEAWATER_CALCULATIONS,
  ...OXYGEN_BUDGET_CALCULATIONS,
  ...OXYGEN_UPTAKE_CALCULATIONS,
  ...BED_CALCULATIONS,
  ...FEEDING_CALCULATIONS,
  ...STOCK_CALCULATIONS,
  ...MIXING_CALCULATIONS,
  ...TANK_WATER_CALCULATIONS,
];

export const calculationNamed = (name: string): Calculation | undefined =>
  CALCULATIONS.find((calculation) => calculation.name === name);
