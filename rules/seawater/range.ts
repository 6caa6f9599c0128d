import type { Refusal } from '../answer.js';

/** Lowest and highest value that gets an answer, both included. */
export type Range = readonly [low: number, high: number];

/**
 * The ranges that the seawater equations share. They are a little wider than the measurements the equations were fitted
 * to, so that a tank that runs hot or salty is still judged; fit.ts says when an answer lies beyond the measurements.
 */
export const TEMPERATURE_C: Range = [-2, 45];
export const SALINITY: Range = [0, 50];
/** 0.5 to 1.1 standard atmospheres. */
export const AIR_PRESSURE_KPA: Range = [50.6625, 111.4575];
/** Three times saturation is about 48 mg/L in the coldest fresh water under the highest air pressure above. */
export const OXYGEN_MG_L: Range = [0, 50];

/** One standard atmosphere, exactly. */
export const ATMOSPHERE_KPA = 101.325;

/**
 * The refusal for an argument outside its range, or undefined inside. Unlike `refusalFor` it allocates nothing when all
 * is well: the engine asks several times for every reading.
 * Source: arithmetic. Check: 45.1 is outside -2 to 45, 45 is not.
 */
export const outside = (what: string, value: number, range: Range): Refusal | undefined => {
  const [low, high] = range;
  if (value >= low && value <= high) return undefined;
  return Number.isFinite(value) ? { code: 'out-of-range', what, value, low, high } : { code: 'not-finite', what };
};
