import { FLAG, type Flag, isInside, isPresent, type Series, type Span } from './flag.js';
import { type GrossRange, grossRangeFlag } from './gross-range.js';

/** Months 1 to 12, ISO weeks 1 to 53, days of the year 1 to 366, quarters 1 to 4; all in UTC, never local days. */
export type Season = 'month' | 'week' | 'day' | 'quarter';

/**
 * One seasonal span: outside `userSpan` is suspect, outside the optional `sensorSpan` fails. `fromTo` counts seasons of
 * every year when `season` is set, else it is a stretch of UTC ms. All ends are inside.
 */
export type SeasonalSpan = {
  readonly userSpan: Span;
  readonly sensorSpan?: Span | undefined;
  readonly season?: Season | undefined;
  readonly fromTo: Span;
};

/**
 * Climatology over a series (QARTOD test 5): no span for that time is not evaluated; where spans overlap the last rules.
 * Source: reference implementation of QARTOD; depth is left out, a tank has none that matters.
 */
export const climatologyFlags = (
  values: Series,
  stampsMs: readonly number[],
  { members }: { readonly members: readonly SeasonalSpan[] },
): Flag[] =>
  values.map((value, n) => {
    const stamp = stampsMs[n];
    if (!isPresent(value)) return FLAG.missing;
    const member = isPresent(stamp) ? members.findLast((each) => rules(each, stamp)) : undefined;
    return member === undefined ? FLAG.notEvaluated : grossRangeFlag(value, spansOf(member));
  });

/**
 * The recipe band, which takes the place of climatology in a tank: what the stage, the species and the schedule of this
 * tank allow now; outside is suspect, never fail, and without a recipe nothing is evaluated. Common practice, no source.
 */
export const recipeBandFlag = (value: number, band: Span | undefined): Flag => {
  if (band === undefined) return FLAG.notEvaluated;
  return isInside(band, value) ? FLAG.pass : FLAG.suspect;
};

const spansOf = ({ sensorSpan, userSpan }: SeasonalSpan): GrossRange => ({
  sensorSpan: sensorSpan ?? [-Infinity, Infinity],
  userSpan,
});

const rules = ({ season, fromTo }: SeasonalSpan, stampMs: number): boolean =>
  isInside(fromTo, season === undefined ? stampMs : seasonOf(season, new Date(stampMs)));

const seasonOf = (season: Season, date: Date): number => {
  switch (season) {
    case 'month':
      return date.getUTCMonth() + 1;
    case 'quarter':
      return Math.floor(date.getUTCMonth() / 3) + 1;
    case 'day':
      return dayOfYear(date);
    case 'week':
      return isoWeek(date);
  }
};

const DAY_MS = 86_400_000;

const dayOfYear = (date: Date): number =>
  Math.floor((date.getTime() - Date.UTC(date.getUTCFullYear(), 0, 1)) / DAY_MS) + 1;

/** ISO 8601: a week belongs to the year that holds its Thursday. */
const isoWeek = (date: Date): number => {
  const fromMonday = (date.getUTCDay() + 6) % 7;
  const thursday = new Date(date.getTime() + (3 - fromMonday) * DAY_MS);
  return Math.floor((dayOfYear(thursday) - 1) / 7) + 1;
};
