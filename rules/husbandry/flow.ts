import { type Answer, refusalFor, refuse } from '../answer.js';
import { ok } from '../result.js';
import { FLOW_L_MIN, type Range, VOLUME_L } from './range.js';

export type Turnover = {
  readonly turnoversPerDay: number;
  readonly residenceMin: number;
  readonly fractionReplaced: number;
  readonly minutesTo95Pct: number;
};

/**
 * How often a flow renews a tank, and how much of the water is new after a while. Well mixed: 1 − e^(−q t/V).
 * Answers for 0.001 to 10 million L, 0.000001 to a million L/min and 0 to a million minutes.
 * Check value: 400 L at 5 L/min, 60 min: 18 a day, 80 min, 0.528, 95 % after 240 min. Source: well-mixed tank.
 */
export const turnover = (tank: {
  readonly volumeL: number;
  readonly flowLMin: number;
  readonly minutes: number;
}): Answer<Turnover> => {
  const { volumeL, flowLMin, minutes } = tank;
  const refusal = refusalFor(
    { volumeL, flowLMin, minutes },
    { volumeL: VOLUME_L, flowLMin: FLOW_L_MIN, minutes: [0, 1_000_000] },
  );
  if (refusal !== undefined) return refuse(refusal);
  const residenceMin = volumeL / flowLMin;
  return ok({
    turnoversPerDay: 1440 / residenceMin,
    residenceMin,
    fractionReplaced: -Math.expm1(-minutes / residenceMin),
    minutesTo95Pct: Math.log(20) * residenceMin,
  });
};

/**
 * Flow from a timed vessel, L/min.
 * Answers for 0 to 10 million mL and 0.1 to 86,400 s.
 * Check value: 100 mL in 15 s: 0.4 L/min. Source: arithmetic.
 */
export const flowFromBucketLMin = (bucket: { readonly collectedMl: number; readonly seconds: number }): Answer => {
  const { collectedMl, seconds } = bucket;
  const refusal = refusalFor({ collectedMl, seconds }, { collectedMl: [0, 10_000_000], seconds: [0.1, 86_400] });
  return refusal === undefined ? ok((collectedMl * 60) / seconds / 1000) : refuse(refusal);
};

const UPWELLER = {
  flowLMin: [0, 1_000_000],
  flowNeedLMinPerKg: [0.01, 1000],
  areaM2: [0, 10_000],
  maxKgM2: [0.01, 10_000],
} satisfies Record<string, Range>;

export type UpwellerLoading = { readonly kgByFlow: number; readonly kgByArea: number; readonly kgAllowed: number };

/**
 * Live kilograms of seed that an upweller carries: by flow, by area, and the smaller of the two.
 * Answers for 0 to a million L/min, 0.01 to 1000 L/min per kg, 0 to 10,000 m² and 0.01 to 10,000 kg/m².
 * Check value: 600 L/min at 15 L/min per kg, 0.5 m² at 120 kg/m²: 40, 60, 40 kg. Source: FAO Fisheries Technical Paper
 * 471, 6.6.2 (10 to 20 L/min per kg; up to 120 kg/m²), read.
 */
export const upwellerLoading = (upweller: {
  readonly flowLMin: number;
  readonly flowNeedLMinPerKg: number;
  readonly areaM2: number;
  readonly maxKgM2: number;
}): Answer<UpwellerLoading> => {
  const { flowLMin, flowNeedLMinPerKg, areaM2, maxKgM2 } = upweller;
  const refusal = refusalFor({ flowLMin, flowNeedLMinPerKg, areaM2, maxKgM2 }, UPWELLER);
  if (refusal !== undefined) return refuse(refusal);
  const kgByFlow = flowLMin / flowNeedLMinPerKg;
  const kgByArea = areaM2 * maxKgM2;
  return ok({ kgByFlow, kgByArea, kgAllowed: Math.min(kgByFlow, kgByArea) });
};
