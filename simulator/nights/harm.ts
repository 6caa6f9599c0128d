import { isSpeciesGroupId } from '../../rules/stage/profiles.js';
import { isStage, type Stage } from '../../rules/stage/stage.js';
import type { Tank } from '../tank.js';
import type { Water } from '../water.js';
import { mixed } from '../water.js';
import * as stood from './tolerance.js';

/** What of the true water hurt the animals, or the house. */
export const HARM_CAUSES = [
  'heat',
  'shifted',
  'spawned',
  'no-oxygen',
  'fresh',
  'lost-with-water',
  'in-air',
  'heater-dry',
] as const;
export type HarmCause = (typeof HARM_CAUSES)[number];

export type Harmed = { readonly tank: string; readonly atMs: number; readonly by: HarmCause };

/** Doses so far, each 1 at harm. */
export type Exposure = {
  readonly accustomedC: number;
  readonly startC: number;
  readonly doses: { readonly [by in HarmCause]: number };
};

const NONE: Exposure['doses'] = {
  heat: 0,
  shifted: 0,
  spawned: 0,
  'no-oxygen': 0,
  fresh: 0,
  'lost-with-water': 0,
  'in-air': 0,
  'heater-dry': 0,
};

export const unharmed = (water: Water): Exposure => {
  const { temperatureC } = mixed(water);
  return { accustomedC: temperatureC, startC: temperatureC, doses: NONE };
};

const stageOf = (tank: Tank): Stage => (isStage(tank.stage) ? tank.stage : 'empty');

/** Dose per hour of the thermal-death-time line; nothing more than ten degrees below its one-hour temperature. */
const heatPerH = (tank: Tank, temperatureC: number): number => {
  if (!isSpeciesGroupId(tank.speciesGroup)) return 0;
  const lessC = tank.stage === 'embryo' ? stood.EMBRYO_LESS_C.value : 0;
  const overC = temperatureC - (stood.HEAT_ONE_HOUR_C[tank.speciesGroup].value - lessC);
  return overC < -10 ? 0 : 10 ** (overC / stood.HEAT_Z_C.value) / stood.HARM_SHARE.value;
};

const oxygenPerH = (tank: Tank, oxygenMgL: number, temperatureC: number): number => {
  const halfDeadH = stood.ANOXIA_HALF_DEAD_H[tank.stage]?.value;
  if (halfDeadH === undefined) return 0;
  const fromMgL = (stood.OXYGEN_COUNTS_BELOW_MG_L[tank.stage] ?? stood.ADULT_OXYGEN_COUNTS_BELOW_MG_L).value;
  const missing = Math.max(0, 1 - oxygenMgL / fromMgL);
  const warmth = 2 ** ((temperatureC - 20) / stood.OXYGEN_HALVES_PER_C.value);
  return (missing * warmth) / (halfDeadH * stood.HARM_SHARE.value);
};

const freshPerH = (tank: Tank, salinity: number): number => {
  const isSoft = stood.SWIMMING.has(stageOf(tank)) || tank.stage === 'post-set';
  if (!isSoft || !isSpeciesGroupId(tank.speciesGroup)) return 0;
  const under = stood.FRESH_ONE_DAY[tank.speciesGroup].value - salinity;
  return under < -5 ? 0 : 10 ** (under / stood.FRESH_Z.value) / (24 * stood.HARM_SHARE.value);
};

const inAirPerH = (tank: Tank, share: number): number => {
  const halfDeadH = stood.DRY_HALF_DEAD_H[tank.stage]?.value;
  return halfDeadH === undefined || share >= stood.DRY_SHARE.value ? 0 : 1 / (halfDeadH * stood.HARM_SHARE.value);
};

/** Spent when the water comes back to what it was; only a lasting shift hurts. */
const lasting = (dose: number, isBeyond: boolean, overH: number, dtH: number): number =>
  isBeyond ? dose + dtH / overH : dose >= 1 ? dose : 0;

const spawnedDose = (tank: Tank, before: Exposure, temperatureC: number, dtH: number): number => {
  const riseC = stood.SPAWNING_RISE_C[tank.stage]?.value;
  if (riseC === undefined) return 0;
  const isBeyond = temperatureC - before.accustomedC >= riseC;
  return lasting(before.doses.spawned, isBeyond, stood.SPAWNING_RISE_H.value, dtH);
};

const shiftDose = (tank: Tank, before: Exposure, temperatureC: number, dtH: number): number => {
  if (tank.stage !== 'embryo') return 0;
  const isBeyond = Math.abs(temperatureC - before.startC) >= stood.EMBRYO_SHIFT_C.value;
  return lasting(before.doses.shifted, isBeyond, stood.EMBRYO_SHIFT_H.value, dtH);
};

/**
 * What the animals of a tank have been exposed to `dtS` later, in the true water. Drained on purpose, they are elsewhere:
 * `inHand` counts nothing. Knows the stage, the species group and the water, and no limit of anybody.
 */
export const stepExposure = (before: Exposure, tank: Tank, water: Water, dtS: number, inHand: boolean): Exposure => {
  const dtH = dtS / 3600;
  const { temperatureC } = mixed(water);
  const accustomedC = before.accustomedC + (temperatureC - before.accustomedC) * (dtH / stood.ACCUSTOMED_H.value);
  if (inHand) return { ...before, accustomedC };
  const share = water.volumeL / tank.volumeL;
  const { doses } = before;
  const isSwimming = stood.SWIMMING.has(stageOf(tank));
  const isDryHeater = water.heaterOn && share < 0.25;
  return {
    ...before,
    accustomedC,
    doses: {
      heat: doses.heat + dtH * heatPerH(tank, temperatureC),
      shifted: shiftDose(tank, before, temperatureC, dtH),
      spawned: spawnedDose(tank, before, temperatureC, dtH),
      'no-oxygen': doses['no-oxygen'] + dtH * oxygenPerH(tank, worst(tank, water), temperatureC),
      fresh: doses.fresh + dtH * freshPerH(tank, water.salinity),
      'lost-with-water': isSwimming ? Math.max(doses['lost-with-water'], (1 - share) / stood.LOST_WITH_WATER.value) : 0,
      'in-air': doses['in-air'] + dtH * inAirPerH(tank, share),
      'heater-dry': lasting(doses['heater-dry'], isDryHeater, stood.HEATER_DRY_MIN.value / 60, dtH),
    },
  };
};

/** Swimmers are everywhere; what has settled or lies on a screen breathes the lower layer. */
const worst = (tank: Tank, water: Water): number =>
  stood.SWIMMING.has(stageOf(tank)) ? mixed(water).oxygenMgL : water.oxygenMgL.lower;

/** The harm there is, if any; of several at one moment the first of the list. */
export const harmOf = ({ doses }: Exposure): HarmCause | undefined => HARM_CAUSES.find((by) => doses[by] >= 1);
