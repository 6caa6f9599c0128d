import { type Answer, impossible, type Refusal, refusalFor, refuse } from '../answer.js';
import { ok } from '../result.js';
import type { Reach } from '../seawater/hours-left.js';
import {
  type Course,
  type OxygenOutlook,
  reachOnCourse,
  reachOnSlope,
  refusalForOutlook,
} from '../seawater/oxygen-left.js';
import { exactly, type Interval, refusalForInterval } from '../statistics/interval.js';
import { transportRange, type WhyUncalibrated } from './calibration.js';
import { chainOf, demandRoom, demandWithLoad, loadForDemand, loadOf, oxygenLimitMgL } from './chain.js';
import { reachOfLoad } from './load.js';
import type { BedNow } from './penetration.js';
import { refusalForBed } from './settings.js';

/** Where the oxygen of the water is going. */
export type OxygenCourse =
  | { readonly kind: 'steady' }
  | { readonly kind: 'budget'; readonly outlook: Omit<OxygenOutlook, 'oxygenMgL'> }
  | { readonly kind: 'slope'; readonly slopeMgLPerH: Interval };

/** When the layer gets thinner than a depth, and what gets it there. */
export type Thinning =
  | { readonly kind: 'already' }
  | { readonly kind: 'reaches'; readonly hours: number; readonly first: 'oxygen' | 'load' }
  | { readonly kind: 'never' };

/** Over the range of transport, uptake and slope together. Uncalibrated there is no likely one. */
export type BedForecast =
  | { readonly kind: 'calibrated'; readonly soonest: Thinning; readonly likely: Thinning; readonly latest: Thinning }
  | {
      readonly kind: 'uncalibrated';
      readonly why: WhyUncalibrated;
      readonly soonest: Thinning;
      readonly latest: Thinning;
    };

export type BedOutlook = BedNow & { readonly limitDepthMm: number; readonly course: OxygenCourse };

/**
 * Hours until the oxygenated layer is thinner than a set depth: the sooner of two, falling oxygen over the bed as it
 * is, and growing load under the water as it is. Both together are sooner still; oxygen takes hours, load takes days.
 * Answers for a limit of 0.01 to 2000 mm, no deeper than the bed, and the ranges of settings.ts and oxygen-budget.ts.
 * Source: mass balance of the water (oxygen-budget.ts) and of the load (load.ts) over the zero-order layer of layer.ts.
 * Check: demand 10 mmol/m2/day at 95 % saturation, transport 1, limit 0.7 mm, the sealed tank of the oxygen budget:
 * likely in 12.711838 h.
 */
export const forecastThinning = (outlook: BedOutlook): Answer<BedForecast> => {
  const refusal = refusalForThinning(outlook);
  if (refusal !== undefined) return refuse(refusal);
  const range = transportRange(outlook);
  const [soonest, latest] = [thinning(outlook, range.low, 'soonest'), thinning(outlook, range.high, 'latest')];
  if (range.kind === 'uncalibrated') return ok({ kind: range.kind, why: range.why, soonest, latest });
  return ok({ kind: range.kind, soonest, likely: thinning(outlook, range.mid, 'likely'), latest });
};

const refusalForThinning = ({ bed, water, atMs, limitDepthMm, course }: BedOutlook): Refusal | undefined => {
  const refusal = refusalForBed(bed, water) ?? refusalFor({ atMs, limitDepthMm }, { limitDepthMm: [0.01, 2000] });
  if (refusal !== undefined) return refusal;
  const bedDepthMm = bed.depthM * 1000;
  // A layer that ends at the bottom of the bed would always be "thinner" than such a limit.
  if (limitDepthMm > bedDepthMm) return impossible('limit-deeper-than-bed', { limitDepthMm, bedDepthMm }).fault;
  if (course.kind === 'budget') return refusalForOutlook({ ...course.outlook, oxygenMgL: exactly(water.oxygenMgL) });
  return course.kind === 'slope'
    ? refusalForInterval('slopeMgLPerH', course.slopeMgLPerH, [-10_000, 10_000])
    : undefined;
};

const thinning = (outlook: BedOutlook, transport: number, course: Course): Thinning => {
  const { bed, water, limitDepthMm } = outlook;
  const load = loadOf(bed, water);
  const demandMmolM2Day = demandWithLoad(bed, load?.loadMmolCM2 ?? 0);
  const chain = chainOf(bed, water, { transport, demandMmolM2Day });
  const limitM = limitDepthMm / 1000;
  const limitMgL = oxygenLimitMgL(chain, limitM);
  if (water.oxygenMgL < limitMgL) return { kind: 'already' };
  const byOxygen = reachOfWater(outlook, limitMgL, course);
  if (bed.waste === undefined || load === undefined) return sooner(byOxygen, { kind: 'never' });
  // Demand per volume goes with the square of the demand per area.
  const mostDemand = demandMmolM2Day * Math.sqrt(demandRoom(chain, limitM));
  return sooner(byOxygen, reachOfLoad(load, loadForDemand(bed, bed.waste, mostDemand)));
};

const reachOfWater = ({ water, course }: BedOutlook, limitMgL: number, on: Course): Reach => {
  const { oxygenMgL } = water;
  if (course.kind === 'budget')
    return reachOnCourse({ ...course.outlook, oxygenMgL: exactly(oxygenMgL) }, limitMgL, on);
  if (course.kind === 'steady') return { kind: 'never' };
  const end = ({ soonest: 'low', likely: 'mid', latest: 'high' } as const)[on];
  return reachOnSlope(oxygenMgL, course.slopeMgLPerH[end], limitMgL);
};

const sooner = (byOxygen: Reach, byLoad: Reach): Thinning => {
  if (byOxygen.kind === 'never')
    return byLoad.kind === 'never' ? byLoad : { kind: 'reaches', hours: byLoad.hours, first: 'load' };
  return byLoad.kind === 'never' || byOxygen.hours <= byLoad.hours
    ? { kind: 'reaches', hours: byOxygen.hours, first: 'oxygen' }
    : { kind: 'reaches', hours: byLoad.hours, first: 'load' };
};
