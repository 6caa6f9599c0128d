import { type Answer, impossible, refusalFor, refuse } from '../answer.js';
import { ok } from '../result.js';
import { chainOf, demandWithLoad, depthOfChainM, loadOf } from './chain.js';
import { BED_DEFAULTS } from './defaults.js';
import { type BedSettings, type BedWater, refusalForBed } from './settings.js';

const MS_PER_DAY = 86_400_000;

/**
 * The layer as somebody saw it: in a core, or as the upper edge of the black (sulfide) sand behind the glass.
 * Black begins below the end of the oxygen, not at it, so that a black edge overstates the depth; it is kept which it was.
 */
export type LayerSight = {
  readonly kind: 'core' | 'black-edge';
  readonly depthMm: number;
  readonly atMs: number;
};

/** What one sight says of a bed: how much more than still diffusion its transport was that day. */
export type BedCalibration = {
  readonly sight: LayerSight;
  readonly transport: number;
  /** Water was pumped through the bed that day. A calibration holds for a bed with, or without, not for both. */
  readonly pumped: boolean;
  readonly doubts: readonly CalibrationDoubt[];
};

/** A transport below 1 is less than molecular diffusion, or than the pump brings: the demand is set too high. Above 190 nothing published reaches. */
export type CalibrationDoubt = 'thinner-than-explained' | 'thicker-than-published' | 'black-edge-overstates';

const HIGHEST_PUBLISHED_TRANSPORT = 190;

/**
 * Transport of a bed from a sight of its layer, with the water, temperature and load of that day.
 * At 20 °C in saturated water without a film it is L J / (2 phi Ds C0).
 * Answers for a layer of 0.1 to 2000 mm above the bottom of the bed, a transport of 0.01 to 10,000, and the ranges of
 * settings.ts. No answer when the whole bed was clear: then the layer ends somewhere below it.
 * Source: the zero-order layer of layer.ts, turned round.
 * Check: a layer of 1.598474 mm in the worked bed of tests/conformance/bed.test.ts is a transport of 5.
 */
export const calibrateBed = ({
  bed,
  water,
  sight,
}: {
  readonly bed: BedSettings;
  readonly water: BedWater;
  readonly sight: LayerSight;
}): Answer<BedCalibration> => {
  const refusal =
    refusalForBed(bed, water) ?? refusalFor({ depthMm: sight.depthMm, atMs: sight.atMs }, { depthMm: [0.1, 2000] });
  if (refusal !== undefined) return refuse(refusal);
  if (sight.depthMm >= bed.depthM * 1000) return impossible('whole-bed-clear', { bedDepthMm: bed.depthM * 1000 });
  const demandMmolM2Day = demandWithLoad(bed, loadOf(bed, water)?.loadMmolCM2 ?? 0);
  const stillM = depthOfChainM(chainOf(bed, water, { transport: 1, demandMmolM2Day }));
  const transport = sight.depthMm / 1000 / stillM;
  // Next to no oxygen over the bed explains no depth at all.
  if (!(transport >= 0.01 && transport <= 10_000)) return impossible('layer-not-explained', { depthMm: sight.depthMm });
  return ok({ sight, transport, pumped: water.throughFlowLM2H > 0, doubts: doubtsOf(transport, sight) });
};

const doubtsOf = (transport: number, sight: LayerSight): readonly CalibrationDoubt[] => [
  ...(transport < 1 ? (['thinner-than-explained'] as const) : []),
  ...(transport > HIGHEST_PUBLISHED_TRANSPORT ? (['thicker-than-published'] as const) : []),
  ...(sight.kind === 'black-edge' ? (['black-edge-overstates'] as const) : []),
];

/** The transport to reckon with now. Without a calibration that holds there is no middle, only a wide range. */
export type TransportRange =
  | { readonly kind: 'calibrated'; readonly low: number; readonly mid: number; readonly high: number }
  | { readonly kind: 'uncalibrated'; readonly why: WhyUncalibrated; readonly low: number; readonly high: number };

export type WhyUncalibrated = 'never-calibrated' | 'calibration-old' | 'pump-changed';

/**
 * The transport to reckon with: within a factor of two for 30 days after a calibration; else from half of still
 * diffusion to ten times it, widened to hold what an old calibration would say.
 * Source: judgement, not statistics, with the factors of defaults.ts.
 * Check: 5 the day after a calibration to 5: 2.5 to 10; never calibrated: 0.5 to 10.
 */
export const transportRange = ({
  calibration,
  water,
  atMs,
}: {
  readonly calibration?: BedCalibration | undefined;
  readonly water: BedWater;
  readonly atMs: number;
}): TransportRange => {
  const low = BED_DEFAULTS.stillTransport.value * BED_DEFAULTS.lowEndShare.value;
  const high = BED_DEFAULTS.highTransport.value;
  if (calibration === undefined) return { kind: 'uncalibrated', why: 'never-calibrated', low, high };
  // One made under the other state of the pump says nothing of this one.
  if (calibration.pumped !== water.throughFlowLM2H > 0) return { kind: 'uncalibrated', why: 'pump-changed', low, high };
  const factor = BED_DEFAULTS.calibratedFactor.value;
  const mid = calibration.transport;
  const ageMs = atMs - calibration.sight.atMs;
  if (ageMs >= 0 && ageMs <= BED_DEFAULTS.calibrationDays.value * MS_PER_DAY)
    return { kind: 'calibrated', low: mid / factor, mid, high: mid * factor };
  return {
    kind: 'uncalibrated',
    why: ageMs < 0 ? 'never-calibrated' : 'calibration-old',
    low: Math.min(low, mid / factor),
    high: Math.max(high, mid * factor),
  };
};
