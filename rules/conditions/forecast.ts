import type { ConditionCode, Finding, Harm, Line } from './finding.js';

/** A time of harm that somebody was told. Kept until its time has passed, then scored; never changed in between. */
export type Forecast = {
  readonly condition: ConditionCode;
  readonly subject: string;
  readonly channelId: string;
  readonly issuedMs: number;
  readonly line: Line;
  readonly harm: Harm;
};

/**
 * `hit`: the line was reached inside the interval. `early`, `late`: reached outside it. `not-reached`: not by the end of
 * the interval, or of the time beyond it; somebody may have acted, which a forecast cannot know.
 */
export type Score = {
  readonly forecast: Forecast;
  readonly outcome: 'hit' | 'early' | 'late' | 'not-reached';
  readonly scoredMs: number;
  readonly reachedMs?: number;
  /** Reached less forecast, minutes: below zero it came sooner than said. */
  readonly errorMin?: number;
};

const MINUTE_MS = 60_000;
/** A forecast that moved by less than this, or by less than a quarter of the time left, is the same forecast. */
const MOVED_AT_LEAST_MS = 10 * MINUTE_MS;
const MOVED_SHARE = 0.25;
const MOST_PENDING = 4;
/** Nobody acts on a time farther off, and by then the water is another. */
const FARTHEST_MS = 12 * 60 * MINUTE_MS;

/** When a forecast that was not reached can be given up: a quarter of its own length after its latest time. */
export const givenUpMs = ({ issuedMs, harm }: Forecast): number => {
  const latestMs = Math.max(harm.atMs, harm.latestMs ?? harm.atMs + (harm.atMs - issuedMs));
  return latestMs + Math.max(MOVED_AT_LEAST_MS, MOVED_SHARE * (latestMs - issuedMs));
};

const isAnother = ({ harm: before, issuedMs }: Forecast, { atMs }: Harm): boolean =>
  Math.abs(before.atMs - atMs) >= Math.max(MOVED_AT_LEAST_MS, MOVED_SHARE * (before.atMs - issuedMs));

/** The forecasts pending after a finding was told: a new one when it says something new, at most four of one alarm. */
export const issued = (
  pending: readonly Forecast[],
  { condition, channelId, harm, line }: Finding,
  subject: string,
  atMs: number,
): readonly Forecast[] => {
  if (harm === undefined || line === undefined || channelId === undefined) return pending;
  if (harm.atMs <= atMs || harm.atMs > atMs + FARTHEST_MS) return pending;
  const mine = pending.filter((forecast) => forecast.condition === condition && forecast.subject === subject);
  const last = mine.at(-1);
  if (mine.length >= MOST_PENDING || (last !== undefined && !isAnother(last, harm))) return pending;
  return [...pending, { condition, subject, channelId, issuedMs: atMs, line, harm }];
};

const isBeyond = ({ side, value: line }: Line, value: number): boolean =>
  side === 'high' ? value >= line : value <= line;

/** The score of a forecast, from the last value of its channel and its time; undefined while it is open. */
export const scored = (
  forecast: Forecast,
  now: { readonly nowMs: number; readonly valueMs?: number | undefined; readonly value?: number | undefined },
): Score | undefined => {
  const { harm, line, issuedMs } = forecast;
  const { nowMs, value, valueMs } = now;
  if (value !== undefined && valueMs !== undefined && valueMs >= issuedMs && isBeyond(line, value)) {
    const outcome =
      valueMs < harm.earliestMs ? 'early' : harm.latestMs !== undefined && valueMs > harm.latestMs ? 'late' : 'hit';
    const errorMin = (valueMs - harm.atMs) / MINUTE_MS;
    return { forecast, outcome, scoredMs: nowMs, reachedMs: valueMs, errorMin };
  }
  return nowMs >= givenUpMs(forecast) ? { forecast, outcome: 'not-reached', scoredMs: nowMs } : undefined;
};

export type ForecastRecord = {
  readonly reached: number;
  readonly hits: number;
  readonly notReached: number;
  readonly medianErrorMin?: number;
};

/** The scores of many, for the season page: how many were reached, inside the interval, and how far off, minutes. */
export const forecastRecord = (scores: readonly Score[]): ForecastRecord => {
  const errors = scores
    .flatMap(({ errorMin }) => (errorMin === undefined ? [] : [Math.abs(errorMin)]))
    .sort((a, b) => a - b);
  const upper = errors[errors.length >> 1];
  const lower = errors[(errors.length - 1) >> 1];
  return {
    reached: errors.length,
    hits: scores.filter(({ outcome }) => outcome === 'hit').length,
    notReached: scores.filter(({ outcome }) => outcome === 'not-reached').length,
    ...(upper === undefined || lower === undefined ? {} : { medianErrorMin: (upper + lower) / 2 }),
  };
};
