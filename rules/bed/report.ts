import type { Place } from '../place.js';
import { middle, rising } from '../statistics/quantile.js';
import type { WhyUncalibrated } from './calibration.js';
import { bedUnder, type WaterOver } from './over.js';
import { oxygenPenetration } from './penetration.js';

/**
 * What a screen says of a bed. Without a look at its layer there is no number: nothing says where in a range of one to
 * twenty the bed lies.
 */
export type BedReport = {
  readonly kind: 'sand' | 'aragonite';
  readonly bedMm: number;
  readonly limitMm?: number;
  readonly cleanedAtMs?: number;
  readonly estimate: BedEstimate;
  readonly looks: readonly BedReportLook[];
  /** Of the looks for which there was an estimate: how far off it was, mm, half of them less. */
  readonly medianErrorMm?: number;
};

export type BedEstimate =
  /** Oxygen, temperature or salinity over the bed is not measured now. */
  | { readonly kind: 'no-water' }
  | { readonly kind: 'uncalibrated'; readonly why: WhyUncalibrated }
  | {
      readonly kind: 'calibrated';
      readonly lowMm: number;
      readonly mm: number;
      readonly highMm: number;
      readonly lookedAtMs: number;
    };

export type BedReportLook = { readonly atMs: number; readonly seenMm: number; readonly estimatedMm?: number };

const estimateOf = (place: Place, bed: NonNullable<Place['bed']>, water: WaterOver | undefined): BedEstimate => {
  const now = water === undefined ? undefined : bedUnder({ bed, aerated: place.aerated }, water);
  const answer = now === undefined ? undefined : oxygenPenetration(now);
  if (answer?.ok !== true) return { kind: 'no-water' };
  if (answer.value.kind === 'uncalibrated') return { kind: 'uncalibrated', why: answer.value.why };
  const { low, mid, high } = answer.value.depthMm;
  return { kind: 'calibrated', lowMm: low, mm: mid, highMm: high, lookedAtMs: answer.value.calibratedAtMs };
};

/**
 * The bed of a place under its water now; undefined where there is none. Depths mm.
 * Source: the layer of penetration.ts; the median of what the looks were off by is arithmetic.
 * Check: seen 8 and 8.5 mm where 9.1 and 7.8 had been reckoned: off by 0.9 mm at the median.
 */
export const bedReport = (place: Place, water: WaterOver | undefined): BedReport | undefined => {
  const { bed } = place;
  if (bed === undefined) return undefined;
  const looks = (bed.looks ?? []).map(({ atMs, seenMm, estimatedMm }) => ({
    atMs,
    seenMm,
    ...(estimatedMm === undefined ? {} : { estimatedMm }),
  }));
  const errors = looks.flatMap(({ seenMm, estimatedMm }) =>
    estimatedMm === undefined ? [] : [Math.abs(seenMm - estimatedMm)],
  );
  const medianErrorMm = middle(rising(errors));
  return {
    kind: bed.kind,
    bedMm: 1000 * bed.depthM,
    ...(bed.limitDepthMm === undefined ? {} : { limitMm: bed.limitDepthMm }),
    ...(bed.cleanedAtMs === undefined ? {} : { cleanedAtMs: bed.cleanedAtMs }),
    estimate: estimateOf(place, bed, water),
    looks,
    ...(medianErrorMm === undefined ? {} : { medianErrorMm }),
  };
};
