import { type Answer, impossible, refusalFor, refuse } from '../answer.js';
import { ok } from '../result.js';
import { FLOW_L_MIN, HOURS, POWER_KW, type Range, ROOM_C, TEMPERATURE_C, VOLUME_L } from './range.js';

/** Seawater of 31 to 35 near 20 °C. Source: from memory of standard tables. */
export const SEAWATER_KG_L = 1.023;
export const SEAWATER_KJ_KG_K = 3.99;

type Water = {
  /** kg/L; `SEAWATER_KG_L` when absent. */
  readonly densityKgL?: number;
  /** kJ/(kg·K); `SEAWATER_KJ_KG_K` when absent. */
  readonly heatCapacityKjKgK?: number;
};

const WATER = { densityKgL: [0.9, 1.2], heatCapacityKjKgK: [3, 4.5] } satisfies Record<string, Range>;

const waterOf = ({ densityKgL = SEAWATER_KG_L, heatCapacityKjKgK = SEAWATER_KJ_KG_K }: Water) => ({
  densityKgL,
  heatCapacityKjKgK,
});

/** Heat that warms one litre by one degree, kJ. */
const kjPerLitre = (water: Water): number => {
  const { densityKgL, heatCapacityKjKgK } = waterOf(water);
  return densityKgL * heatCapacityKjKgK;
};

/**
 * Heat to warm a tank, and how long a heater takes, losses apart. kJ = V ρ cp ΔT.
 * Answers for 0.001 to 10 million L, -2 to 45 °C, 0.001 to 10,000 kW, 0.01 to 1 of it reaching the water, 0.9 to 1.2
 * kg/L and 3 to 4.5 kJ/(kg·K).
 * Check value: 1,000 L from 14 to 24 °C with 3 kW, 90 % of it reaching the water: 11.34 kWh, 4.20 h. Source: arithmetic.
 */
export const heatBatch = (
  tank: Water & {
    readonly volumeL: number;
    readonly fromC: number;
    readonly toC: number;
    readonly heaterKw: number;
    readonly fractionReachingWater: number;
  },
): Answer<{ readonly energyKwh: number; readonly hours: number }> => {
  const { volumeL, fromC, toC, heaterKw, fractionReachingWater } = tank;
  const refusal = refusalFor(
    { volumeL, fromC, toC, heaterKw, fractionReachingWater, ...waterOf(tank) },
    {
      volumeL: VOLUME_L,
      fromC: TEMPERATURE_C,
      toC: TEMPERATURE_C,
      heaterKw: POWER_KW,
      fractionReachingWater: [0.01, 1],
      ...WATER,
    },
  );
  if (refusal !== undefined) return refuse(refusal);
  if (toC < fromC) return impossible('already-warmer', { fromC, toC });
  const energyKwh = (volumeL * kjPerLitre(tank) * (toC - fromC)) / 3600;
  return ok({ energyKwh, hours: energyKwh / (heaterKw * fractionReachingWater) });
};

/**
 * Power that warms a flow, kW.
 * Answers for 0.000001 to a million L/min and 0 to 50 °C.
 * Check value: 10 L/min by 10 °C: 6.803 kW. Source: arithmetic.
 */
export const heatFlowKw = (flow: Water & { readonly flowLMin: number; readonly riseC: number }): Answer => {
  const { flowLMin, riseC } = flow;
  const refusal = refusalFor({ flowLMin, riseC, ...waterOf(flow) }, { flowLMin: FLOW_L_MIN, riseC: [0, 50], ...WATER });
  return refusal === undefined ? ok((flowLMin / 60) * kjPerLitre(flow) * riseC) : refuse(refusal);
};

/**
 * A heater stuck on: how fast it warms and how long to the limit. No losses, so this is the fastest case.
 * °C/h = kW 3600 / (V ρ cp).
 * Answers for 0.001 to 10,000 kW, 0.001 to 10 million L and -2 to 45 °C.
 * Check value: 3 kW in 1,000 L from 24 to 30 °C: 2.646 °C/h, 2.27 h. Source: arithmetic.
 */
export const stuckHeater = (
  tank: Water & {
    readonly heaterKw: number;
    readonly volumeL: number;
    readonly nowC: number;
    readonly limitC: number;
  },
): Answer<{ readonly riseCPerH: number; readonly hoursToLimit: number }> => {
  const { heaterKw, volumeL, nowC, limitC } = tank;
  const refusal = refusalFor(
    { heaterKw, volumeL, nowC, limitC, ...waterOf(tank) },
    { heaterKw: POWER_KW, volumeL: VOLUME_L, nowC: TEMPERATURE_C, limitC: TEMPERATURE_C, ...WATER },
  );
  if (refusal !== undefined) return refuse(refusal);
  if (nowC > limitC) return impossible('already-past', { now: nowC, line: limitC });
  const riseCPerH = (heaterKw * 3600) / (volumeL * kjPerLitre(tank));
  return ok({ riseCPerH, hoursToLimit: (limitC - nowC) / riseCPerH });
};

/**
 * Cooling (or warming) towards the room after a power cut: k = ln((T0 − Ta)/(T1 − Ta))/t, hours from the start to a
 * limit.
 * Answers for -2 to 45 °C, a room of -30 to 60 °C and 0.001 to 10,000 h.
 * Check value: 24 to 23.2 °C in 2 h, room 16 °C: k 0.0527 per hour, 20 °C after 13.16 h. Source: Newton's law of cooling.
 */
export const coolDown = (tank: {
  readonly startC: number;
  readonly laterC: number;
  readonly hoursBetween: number;
  readonly roomC: number;
  readonly limitC: number;
}): Answer<{ readonly ratePerH: number; readonly hoursFromStartToLimit: number }> => {
  const { startC, laterC, hoursBetween, roomC, limitC } = tank;
  const refusal = refusalFor(
    { startC, laterC, hoursBetween, roomC, limitC },
    { startC: TEMPERATURE_C, laterC: TEMPERATURE_C, hoursBetween: HOURS, roomC: ROOM_C, limitC: TEMPERATURE_C },
  );
  if (refusal !== undefined) return refuse(refusal);
  const moved = Math.log((startC - roomC) / (laterC - roomC));
  if (!(moved > 0 && Number.isFinite(moved))) return impossible('not-towards-room', { startC, laterC, roomC });
  const toMove = Math.log((startC - roomC) / (limitC - roomC));
  if (!(toMove >= 0 && Number.isFinite(toMove))) return impossible('limit-never-reached', { startC, roomC, limitC });
  const ratePerH = moved / hoursBetween;
  return ok({ ratePerH, hoursFromStartToLimit: toMove / ratePerH });
};
