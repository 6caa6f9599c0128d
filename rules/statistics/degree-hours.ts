import { inOrder, isSample, type Sample } from './sample.js';

const MS_PER_HOUR = 3_600_000;

/** Above this share of unknown time a total is a lower bound only (common practice, no source). */
export const MOST_UNKNOWN_SHARE = 0.1;

/** What is summed: how far and how long a stream is beyond a line, straight lines between samples. */
export type BeyondLine = {
  /** In the unit of the samples; like them within 1e15. */
  readonly line: number;
  readonly side: 'above' | 'below';
  /** A longer step between samples is unknown time: counted apart, never filled. Absent: every step is taken. */
  readonly maxGapMs?: number;
};

/**
 * Plain and unchanging: it can be kept and replayed. The step from `before` to `last` is not yet in the sums,
 * so that a second sample at the time of the last can still replace it.
 */
export type DegreeHoursState = {
  readonly sums: DegreeHourSums;
  readonly before?: Sample;
  readonly last?: Sample;
  /** What lies between `before` and `last`, or `last` and the next, is unknown whatever its length. */
  readonly brokenBefore: boolean;
  readonly brokenAfter: boolean;
  /** Samples that came after a later one was already counted, and so took no part. */
  readonly late: number;
};

export type DegreeHourSums = {
  /** The area beyond the line: °C h for a temperature, mg/L h for oxygen. */
  readonly degreeHours: number;
  readonly hoursBeyond: number;
  readonly hoursCovered: number;
  /** Unknown time: counted neither as beyond nor as fine. */
  readonly hoursGap: number;
};

export type DegreeHours = DegreeHourSums & {
  /** More than a tenth of the time is unknown: it was this much, or more. */
  readonly lowerBound: boolean;
  readonly late: number;
};

const NOTHING: DegreeHourSums = { degreeHours: 0, hoursBeyond: 0, hoursCovered: 0, hoursGap: 0 };

/** The state before the first sample. Source: arithmetic. Check: every sum is 0. */
export const startDegreeHours = (): DegreeHoursState => ({
  sums: NOTHING,
  brokenBefore: false,
  brokenAfter: false,
  late: 0,
});

/**
 * One more sample, in order of time. An earlier one is counted as late; what is not a number is not a sample.
 * Source: geometry. Check: 18 °C and 22 °C 4 h later, then the total above 20: 2 °C h.
 */
export const nextDegreeHours = (what: BeyondLine, state: DegreeHoursState, sample: Sample): DegreeHoursState => {
  if (!isSample(sample)) return state;
  const { last } = state;
  if (last === undefined) return { ...state, last: sample, brokenAfter: false };
  if (sample.atMs < last.atMs) return { ...state, late: state.late + 1 };
  if (sample.atMs === last.atMs) return { ...state, last: sample };
  return {
    sums: add(state.sums, openStep(what, state)),
    before: last,
    last: sample,
    brokenBefore: state.brokenAfter,
    brokenAfter: false,
    late: state.late,
  };
};

/**
 * The time from the last sample to the next is unknown however short: the probe was out of water, or not believed.
 * Source: decision of this project. Check: 22 °C, a break, 22 °C an hour later, above 20: 0 °C h, 1 h unknown.
 */
export const breakDegreeHours = (state: DegreeHoursState): DegreeHoursState => ({ ...state, brokenAfter: true });

/**
 * The totals so far: the unit of the samples times hours, and hours.
 * Source: geometry; a lower bound from a tenth unknown, common practice.
 * Check: 18 to 22 °C in 4 h, above 20: 2 °C h in 2 h.
 */
export const totalDegreeHours = (what: BeyondLine, state: DegreeHoursState): DegreeHours => {
  const sums = add(state.sums, openStep(what, state));
  const lowerBound = sums.hoursGap > MOST_UNKNOWN_SHARE * (sums.hoursCovered + sums.hoursGap);
  return { ...sums, lowerBound, late: state.late };
};

/**
 * Degree-hours of a whole series: sorted by time, of two at one time the last given is kept.
 * Values and times within 1e15. Source: geometry. Check: 18 to 22 °C in 4 h, above 20: 2 °C h in 2 h.
 */
export const degreeHours = (what: BeyondLine, samples: readonly Sample[]): DegreeHours =>
  totalDegreeHours(
    what,
    inOrder(samples).reduce((state, sample) => nextDegreeHours(what, state, sample), startDegreeHours()),
  );

const add = (a: DegreeHourSums, b: DegreeHourSums): DegreeHourSums => ({
  degreeHours: a.degreeHours + b.degreeHours,
  hoursBeyond: a.hoursBeyond + b.hoursBeyond,
  hoursCovered: a.hoursCovered + b.hoursCovered,
  hoursGap: a.hoursGap + b.hoursGap,
});

const openStep = (what: BeyondLine, { before, last, brokenBefore }: DegreeHoursState): DegreeHourSums => {
  if (before === undefined || last === undefined) return NOTHING;
  const stepMs = last.atMs - before.atMs;
  const hours = stepMs / MS_PER_HOUR;
  if (brokenBefore || (what.maxGapMs !== undefined && stepMs > what.maxGapMs)) return { ...NOTHING, hoursGap: hours };
  return { ...beyond(excess(what, before.value), excess(what, last.value), hours), hoursCovered: hours, hoursGap: 0 };
};

/**
 * How far a value is beyond a line, in its unit; below zero on its good side.
 * Source: arithmetic. Check: 3.5 is 0.5 below 4.
 */
export const excess = ({ line, side }: Pick<BeyondLine, 'line' | 'side'>, value: number): number =>
  side === 'above' ? value - line : line - value;

/**
 * The area and the time above zero of a straight line from one excess to another.
 * On the line throughout is not beyond it. Source: geometry. Check: from -0.5 to 1 in 1 h: 1/3 in 2/3 h.
 */
export const beyond = (
  from: number,
  to: number,
  hours: number,
): Pick<DegreeHourSums, 'degreeHours' | 'hoursBeyond'> => {
  if (from <= 0 && to <= 0) return { degreeHours: 0, hoursBeyond: 0 };
  if (from >= 0 && to >= 0) return { degreeHours: (hours * (from + to)) / 2, hoursBeyond: hours };
  const peak = Math.max(from, to);
  const share = peak / (peak - Math.min(from, to));
  return { degreeHours: (share * hours * peak) / 2, hoursBeyond: share * hours };
};
