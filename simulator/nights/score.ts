import { FAILURE_KINDS, type FailureKind } from './failure.js';
import type { FailureScore, NightScore, SideScore } from './judge.js';
import { REACH_MS } from './showable.js';
import { MINUTE_MS } from './span.js';

export type Quantiles<K extends string> = { readonly [key in K | 'median']: number | null };

/** How the failures of one kind went. The five in the middle add up to `nights`. */
export type KindScore = {
  readonly nights: number;
  /** No animal and no house would have been hurt before the morning round. */
  readonly harmless: number;
  readonly inTime: number;
  readonly late: number;
  readonly missed: number;
  /** Hurt, and no probe could have shown it in time, whatever was made of its readings. */
  readonly notShowable: number;
  /** Of all that were hurt and could be shown; a miss leads by nothing. */
  readonly medianLeadMinutes: number | null;
  /** Called out at some time of the night, hurt or not. */
  readonly called: number;
};

export type WatchScore = {
  readonly harmsMissed: number;
  readonly leadMinutes: Quantiles<'p5'>;
  readonly wakingsWithoutCausePer100TankNights: number;
  readonly alarmsPerTankDay: number;
  readonly forecastErrorMinutes: Quantiles<'p90'>;
  readonly byFailure: { readonly [kind in FailureKind]: KindScore };
};

export type Score = {
  readonly nights: number;
  readonly failures: number;
  /** Harm that no failure explains: a mistake in making the nights. */
  readonly strayHarms: number;
  /** What no watch can pass: minutes from the first minute of the failure, and from its first showing, to the harm. */
  readonly mostLeadMinutes: Quantiles<'p5'>;
  readonly shownLeadMinutes: Quantiles<'p5'>;
} & WatchScore & { readonly baseline: WatchScore; readonly carefulBaseline: WatchScore };

/** Woken with less than this left is late: a person has to get there (common practice, no source). */
export const LATE_MINUTES = REACH_MS / MINUTE_MS;
export const TANKS = 12;
const HOURS = 10;

export type Verdict = 'harmless' | 'in-time' | 'late' | 'missed' | 'not-showable';

/** Minutes between the call and the harm; nothing when it came after the harm or never. */
export const leadOf = ({ harm }: FailureScore, side: SideScore): number => {
  if (harm === undefined || side.calledMs === undefined) return 0;
  return Math.max(0, (harm.atMs - side.calledMs) / MINUTE_MS);
};

export const verdictOf = (failure: FailureScore, side: SideScore): Verdict => {
  if (failure.harm === undefined) return 'harmless';
  if (failure.shownMs === undefined) return 'not-showable';
  const lead = leadOf(failure, side);
  if (lead >= LATE_MINUTES) return 'in-time';
  return lead > 0 ? 'late' : 'missed';
};

/** Nearest rank; null of nothing. */
export const quantileOf = (values: readonly number[], share: number): number | null => {
  const sorted = [...values].sort((a, b) => a - b);
  const value = sorted[Math.max(0, Math.ceil(share * sorted.length) - 1)];
  return value === undefined ? null : rounded(value);
};

const rounded = (value: number): number => Math.round(value * 100) / 100;

export type Side = 'engine' | 'baseline' | 'carefulBaseline';
type Judged = { readonly failure: FailureScore; readonly side: SideScore; readonly verdict: Verdict };

const judgedBy = (nights: readonly NightScore[], side: Side): readonly Judged[] =>
  nights.flatMap((night): readonly Judged[] => {
    const { failure } = night;
    return failure === undefined ? [] : [{ failure, side: night[side], verdict: verdictOf(failure, night[side]) }];
  });

const isCounted = ({ verdict }: Judged): boolean => verdict === 'in-time' || verdict === 'late' || verdict === 'missed';
const leadsOf = (judged: readonly Judged[]): readonly number[] =>
  judged.filter(isCounted).map(({ failure, side }) => leadOf(failure, side));

const kindScore = (judged: readonly Judged[]): KindScore => {
  const count = (verdict: Verdict): number => judged.filter((one) => one.verdict === verdict).length;
  return {
    nights: judged.length,
    harmless: count('harmless'),
    inTime: count('in-time'),
    late: count('late'),
    missed: count('missed'),
    notShowable: count('not-showable'),
    medianLeadMinutes: quantileOf(leadsOf(judged), 0.5),
    called: judged.filter(({ side }) => side.calledMs !== undefined).length,
  };
};

const watchScore = (nights: readonly NightScore[], side: Side): WatchScore => {
  const judged = judgedBy(nights, side);
  const leads = leadsOf(judged);
  const sum = (of: (score: SideScore) => number): number => nights.reduce((total, night) => total + of(night[side]), 0);
  const tankNights = nights.length * TANKS;
  const errors = nights.flatMap((night) => night[side].forecastErrors);
  const kinds = FAILURE_KINDS.map((kind) => [kind, kindScore(judged.filter(({ failure }) => failure.kind === kind))]);
  return {
    harmsMissed: judged.filter(({ verdict }) => verdict === 'missed').length,
    leadMinutes: { median: quantileOf(leads, 0.5), p5: quantileOf(leads, 0.05) },
    wakingsWithoutCausePer100TankNights: rounded((100 * sum(({ needless }) => needless.length)) / tankNights),
    alarmsPerTankDay: rounded((sum(({ alarms }) => alarms) * 24) / (HOURS * tankNights)),
    forecastErrorMinutes: { median: quantileOf(errors, 0.5), p90: quantileOf(errors, 0.9) },
    byFailure: Object.fromEntries(kinds) as WatchScore['byFailure'],
  };
};

/** Of the harms that are counted, how long each could have been called before, by one measure. */
const reachOf = (
  nights: readonly NightScore[],
  sinceMs: (failure: FailureScore) => number | undefined,
): Quantiles<'p5'> => {
  const minutes = judgedBy(nights, 'engine')
    .filter(isCounted)
    .flatMap(({ failure }) => {
      const { harm } = failure;
      const fromMs = sinceMs(failure);
      return harm === undefined || fromMs === undefined ? [] : [(harm.atMs - fromMs) / MINUTE_MS];
    });
  return { median: quantileOf(minutes, 0.5), p5: quantileOf(minutes, 0.05) };
};

/** The figures of many nights. A missed harm, and one noticed by nobody until it was there, count alike. */
export const scoreOf = (nights: readonly NightScore[]): Score => ({
  nights: nights.length,
  failures: nights.filter(({ failure }) => failure !== undefined).length,
  strayHarms: nights.reduce((sum, { strayHarms }) => sum + strayHarms, 0),
  mostLeadMinutes: reachOf(nights, ({ fromMs }) => fromMs),
  shownLeadMinutes: reachOf(nights, ({ shownMs }) => shownMs),
  ...watchScore(nights, 'engine'),
  baseline: watchScore(nights, 'baseline'),
  carefulBaseline: watchScore(nights, 'carefulBaseline'),
});
