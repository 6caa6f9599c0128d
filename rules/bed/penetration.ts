import { type Answer, refusalFor, refuse } from '../answer.js';
import { ok } from '../result.js';
import type { Interval } from '../statistics/interval.js';
import { type BedCalibration, transportRange, type WhyUncalibrated } from './calibration.js';
import { chainOf, demandWithLoad, depthOfChainM, loadOf } from './chain.js';
import { poreOxygenS } from './layer.js';
import { type BedSettings, type BedWater, refusalForBed } from './settings.js';

/** Fitted to 30 °C (Boudreau's diffusivity). */
const WARMEST_FITTED_C = 30;

export type BedFlag =
  /** Beyond the range of the diffusivity. */
  | 'warmer-than-fit'
  /** No oxygen in the water: the layer is nothing. */
  | 'no-oxygen'
  /** The high end of the range reaches the bottom of the bed. */
  | 'may-reach-bottom'
  /** The supply of waste is not known: the bed is taken as clean. */
  | 'waste-not-counted';

/**
 * Estimated oxygenated depth of a bed: the least certain number of the program, and never shown without its range.
 * `shareOfClean` is the depth over that of the same bed clean, at 20 °C, saturated, with film and flow as they should be:
 * the thing to alarm on. It does not depend on the transport.
 */
export type Penetration = Calibrated | Uncalibrated;

type Common = { readonly shareOfClean: number; readonly flags: readonly BedFlag[] };
type Calibrated = Common & {
  readonly kind: 'calibrated';
  readonly depthMm: Interval;
  readonly shareOfBed: Interval;
  readonly calibratedAtMs: number;
};
/** No middle: nothing says where in the range the bed lies. */
type Uncalibrated = Common & {
  readonly kind: 'uncalibrated';
  readonly why: WhyUncalibrated;
  readonly depthMm: { readonly low: number; readonly high: number };
  readonly shareOfBed: { readonly low: number; readonly high: number };
};

export type BedNow = {
  readonly bed: BedSettings;
  readonly water: BedWater;
  readonly calibration?: BedCalibration | undefined;
  readonly atMs: number;
};

/**
 * Estimated oxygenated depth of a bed now, mm, with its range. Answers for the ranges of settings.ts.
 * Sources: the zero-order layer of layer.ts with Boudreau's diffusivity; the width of the range is judgement.
 * Check: porosity 0.40, transport 5, demand 20 mmol/m2/day, salinity 35; at 26 °C and 4.660094 mg/L with a film of 0.5
 * mm: 1.598474 mm (a time-marching solution of the diffusion equation gives 1.594 on a 0.012 mm grid).
 */
export const oxygenPenetration = (now: BedNow): Answer<Penetration> => {
  const { bed, water, calibration, atMs } = now;
  const refusal = refusalForBed(bed, water) ?? refusalFor({ atMs }, {});
  if (refusal !== undefined) return refuse(refusal);
  const range = transportRange({ calibration, water, atMs });
  const stillMm = 1000 * stillDepthM(bed, water, loadOf(bed, water)?.loadMmolCM2 ?? 0);
  const bedMm = bed.depthM * 1000;
  const depth = (transport: number): number => Math.min(bedMm, stillMm * transport);
  const common = { shareOfClean: shareOfClean(bed, water), flags: flagsOf(now, depth(range.high)) };
  const [low, high] = [depth(range.low), depth(range.high)];
  if (range.kind === 'uncalibrated' || calibration === undefined) {
    const why = range.kind === 'uncalibrated' ? range.why : 'never-calibrated';
    return ok({
      ...common,
      kind: 'uncalibrated',
      why,
      depthMm: { low, high },
      shareOfBed: shares({ low, high }, bedMm),
    });
  }
  const depthMm = { low, mid: depth(range.mid), high };
  const shareOfBed = { ...shares(depthMm, bedMm), mid: depthMm.mid / bedMm };
  return ok({ ...common, kind: 'calibrated', depthMm, shareOfBed, calibratedAtMs: calibration.sight.atMs });
};

const stillDepthM = (bed: BedSettings, water: BedWater, loadMmolCM2: number): number =>
  depthOfChainM(chainOf(bed, water, { transport: 1, demandMmolM2Day: demandWithLoad(bed, loadMmolCM2) }));

/** Without regard to the bottom of the bed: a layer that shrinks is seen to shrink before it leaves the bottom. */
const shareOfClean = (bed: BedSettings, water: BedWater): number => {
  const asItShouldBe: BedWater = {
    ...water,
    oxygenMgL: water.solubilityAt20MgL,
    temperatureC: 20,
    filmMm: bed.filmMm,
    throughFlowLM2H: bed.throughFlowLM2H,
  };
  return stillDepthM(bed, water, loadOf(bed, water)?.loadMmolCM2 ?? 0) / stillDepthM(bed, asItShouldBe, 0);
};

const shares = (depthMm: { readonly low: number; readonly high: number }, bedMm: number) => ({
  low: depthMm.low / bedMm,
  high: depthMm.high / bedMm,
});

const flagsOf = ({ bed, water }: BedNow, deepestMm: number): readonly BedFlag[] => [
  ...(water.temperatureC > WARMEST_FITTED_C ? (['warmer-than-fit'] as const) : []),
  ...(water.oxygenMgL === 0 ? (['no-oxygen'] as const) : []),
  ...(deepestMm >= bed.depthM * 1000 ? (['may-reach-bottom'] as const) : []),
  ...(bed.waste === undefined ? (['waste-not-counted'] as const) : []),
];

/**
 * When the pump through the bed stops: about how long the oxygen held in the pores lasts, minutes, before the layer
 * falls back to what diffusion brings. Over the same range of transport as the depth.
 * Answers for the ranges of settings.ts. Source: mass balance.
 * Check: the bed above, calibrated to a transport of 5: 3.84 to 15.36 minutes.
 */
export const poreOxygenMinutes = (now: BedNow): Answer<{ readonly low: number; readonly high: number }> => {
  const refusal = refusalForBed(now.bed, now.water) ?? refusalFor({ atMs: now.atMs }, {});
  if (refusal !== undefined) return refuse(refusal);
  const range = transportRange(now);
  const demandMmolM2Day = demandWithLoad(now.bed, loadOf(now.bed, now.water)?.loadMmolCM2 ?? 0);
  const minutes = (transport: number): number => {
    const chain = chainOf(now.bed, now.water, { transport, demandMmolM2Day });
    return poreOxygenS(now.bed.porosity, chain.oxygenMolM3, chain.demandMolM3S) / 60;
  };
  return ok({ low: minutes(range.low), high: minutes(range.high) });
};
