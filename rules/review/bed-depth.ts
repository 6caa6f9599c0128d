import type { WhyUncalibrated } from '../bed/calibration.js';
import { bedUnder } from '../bed/over.js';
import { oxygenPenetration } from '../bed/penetration.js';
import type { Bed } from '../place.js';
import type { ChannelReadings } from '../wire/api.js';

/** A reading of temperature or salinity counts for so long beside one of oxygen, or for the length of a bucket. */
const COMPANION_MS = 15 * 60_000;

/** Estimated oxygenated depth over time, mm, oldest first; null where something that it is made of was not measured. */
export type BedDepths = {
  readonly atMs: readonly number[];
  readonly low: readonly (number | null)[];
  readonly high: readonly (number | null)[];
  /** The likely one, only where the bed was calibrated by a sight of its layer. */
  readonly mid: readonly (number | null)[];
  /** Set when at any time of the span only the wide range was known. */
  readonly uncalibrated?: WhyUncalibrated;
};

export type WaterReadings = {
  readonly oxygen: ChannelReadings;
  readonly temperature: ChannelReadings;
  readonly salinity: ChannelReadings;
};
export type BedPlace = { readonly bed: Bed; readonly aerated?: boolean | undefined; readonly pressureKpa: number };

type Bucket = { readonly min: number; readonly mean: number; readonly max: number };

const bucketAt = (of: ChannelReadings, atMs: number): Bucket | undefined => {
  let [low, high] = [0, of.atMs.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((of.atMs[middle] ?? 0) <= atMs) low = middle + 1;
    else high = middle;
  }
  const index = low - 1;
  const [startMs, min, mean, max] = [of.atMs[index], of.min[index], of.mean[index], of.max[index]];
  if (startMs === undefined || atMs - startMs > Math.max(COMPANION_MS, of.bucketMs)) return undefined;
  if (min === undefined || mean === undefined || max === undefined) return undefined;
  return min === null || mean === null || max === null ? undefined : { min, mean, max };
};

/**
 * The layer under the water as it was measured. Each time keeps its worst and its best: the low end by the least oxygen in
 * the warmest water, the high end the other way round, so that a short dip is not averaged away. Source: rules/bed.
 */
export const bedDepths = (place: BedPlace, { oxygen, temperature, salinity }: WaterReadings): BedDepths => {
  let uncalibrated: WhyUncalibrated | undefined;
  const depthAt = (atMs: number, oxygenMgL: number, temperatureC: number, salt: number) => {
    const { pressureKpa } = place;
    const now = bedUnder(place, { atMs, oxygenMgL, temperatureC, salinity: salt, pressureKpa });
    const answer = now === undefined ? undefined : oxygenPenetration(now);
    if (answer?.ok !== true) return undefined;
    if (answer.value.kind === 'uncalibrated') uncalibrated = answer.value.why;
    return answer.value;
  };
  const rows = oxygen.atMs.map((atMs) => {
    const [o2, warmth, salt] = [oxygen, temperature, salinity].map((of) => bucketAt(of, atMs));
    if (o2 === undefined || warmth === undefined || salt === undefined) return undefined;
    const worst = depthAt(atMs, o2.min, warmth.max, salt.mean);
    const best = depthAt(atMs, o2.max, warmth.min, salt.mean);
    const likely = depthAt(atMs, o2.mean, warmth.mean, salt.mean);
    if (worst === undefined || best === undefined || likely === undefined) return undefined;
    const mid = likely.kind === 'calibrated' ? likely.depthMm.mid : null;
    return { low: worst.depthMm.low, high: best.depthMm.high, mid };
  });
  return {
    atMs: oxygen.atMs,
    low: rows.map((row) => row?.low ?? null),
    high: rows.map((row) => row?.high ?? null),
    mid: rows.map((row) => row?.mid ?? null),
    ...(uncalibrated === undefined ? {} : { uncalibrated }),
  };
};
