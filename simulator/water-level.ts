import { stepSingle } from './linear-step.js';
import { vapourPressureKPa } from './seawater.js';
import { dregsL, surfaceM2, type Tank } from './tank.js';
import type { Surroundings, Water } from './water.js';

/** What runs in, out (drain, leak, overflow) and into the air, L/min. */
export type Flows = { readonly inLMin: number; readonly outLMin: number; readonly vapourLMin: number };

/** What the other balances need to know of a step's flows. */
export type WaterBalance = {
  /** Volume over the step (logarithmic mean, for which dilution is exact while the tank fills). */
  readonly volumeL: number;
  /** Share of the water replaced per hour. */
  readonly dilutionPerH: number;
  readonly vapourLMin: number;
};

/** Litres from a square metre in an hour for each kPa of vapour pressure, almost still air (from memory of pool tables). */
const VAPOUR_L_PER_M2_H_KPA = 0.13;

export const flowsOf = (water: Water, tank: Tank, around: Surroundings): Flows => {
  const vapourLMin = vapourLMinFrom(water, tank, around);
  const open = around.drainLMin > 0 ? 0 : Math.max(around.flowLMin, water.filling ? around.fillLMin : 0);
  const losing = around.drainLMin + around.leakLMin;
  if (water.volumeL >= tank.volumeL) return { inLMin: open, outLMin: Math.max(losing, open - vapourLMin), vapourLMin };
  // A dry floor neither drains nor evaporates more than what runs onto it.
  if (water.volumeL <= dregsL(tank)) return { inLMin: open, outLMin: Math.min(losing, open), vapourLMin: 0 };
  return { inLMin: open, outLMin: losing, vapourLMin };
};

/** Seconds until the tank is full or dry at these flows; Infinity when it never is. */
export const secondsToBound = (water: Water, tank: Tank, flows: Flows): number => {
  const gainLMin = netLMin(flows);
  if (gainLMin > 0 && water.volumeL < tank.volumeL) return (60 * (tank.volumeL - water.volumeL)) / gainLMin;
  if (gainLMin < 0 && water.volumeL > dregsL(tank)) return (60 * (dregsL(tank) - water.volumeL)) / gainLMin;
  return Number.POSITIVE_INFINITY;
};

export const stepLevel = (
  water: Water,
  tank: Tank,
  around: Surroundings,
  flows: Flows,
  dtS: number,
): { readonly water: Water; readonly balance: WaterBalance } => {
  const volumeL = settled(water.volumeL + (netLMin(flows) * dtS) / 60, tank);
  const overL = logarithmicMean(water.volumeL, volumeL);
  const dilutionPerH = (60 * flows.inLMin) / overL;
  const thickeningPerH = (60 * flows.vapourLMin) / overL;
  const salt = dilutionPerH * around.supply.salinity;
  const salinity = stepSingle(water.salinity, salt, dilutionPerH - thickeningPerH, dtS / 3600);
  const filling = water.filling && (around.drainLMin > 0 || volumeL < tank.volumeL);
  return {
    water: { ...water, volumeL, salinity, filling, inflowLMin: flows.inLMin },
    balance: { volumeL: overL, dilutionPerH, vapourLMin: flows.vapourLMin },
  };
};

const netLMin = ({ inLMin, outLMin, vapourLMin }: Flows): number => inLMin - outLMin - vapourLMin;

/** Lands exactly on full and on dry, where rounding would leave a drop that asks for another step. */
const settled = (volumeL: number, tank: Tank): number => {
  const hair = tank.volumeL * 1e-9;
  if (volumeL > tank.volumeL - hair) return tank.volumeL;
  return volumeL < dregsL(tank) + hair ? dregsL(tank) : volumeL;
};

const logarithmicMean = (from: number, to: number): number => {
  const ratio = to / from;
  return Math.abs(ratio - 1) < 1e-6 ? (from + to) / 2 : (to - from) / Math.log(ratio);
};

const vapourLMinFrom = (water: Water, tank: Tank, around: Surroundings): number => {
  const overWater = 0.98 * vapourPressureKPa(water.temperatureC.upper);
  const inRoom = around.humidity * vapourPressureKPa(around.roomC);
  const perHour = VAPOUR_L_PER_M2_H_KPA * surfaceM2(tank) * tank.openShare * Math.max(0, overWater - inRoom);
  return perHour / 60;
};
