import type { Course } from '../place.js';
import type { Wants } from '../wire/picture.js';

const HOUR_MS = 3_600_000;

/** What another place's channel says now; undefined when it cannot be told. */
export type Followed = (placeId: string) => number | undefined;

/**
 * The middle of a moving target, canonical unit. Before the first and after the last point the schedule stands still.
 * Check: 18 on day 0 and 24 on day 6 want 21 on day 3, 1 °C a day.
 */
export const targetOf = (course: Course, atMs: number, followed: Followed): number | undefined => {
  if (course.kind === 'follows') {
    const value = followed(course.placeId);
    return value === undefined ? undefined : value + course.offset;
  }
  const points = course.points.toSorted((a, b) => a.atMs - b.atMs);
  const after = points.findIndex((point) => point.atMs > atMs);
  const to = points[after];
  const from = after < 0 ? points.at(-1) : points[after - 1];
  if (from === undefined) return to?.target;
  if (to === undefined) return from.target;
  return from.target + ((to.target - from.target) * (atMs - from.atMs)) / (to.atMs - from.atMs);
};

/** The lines with their target where the course puts it now; without a target while that cannot be told. */
export const onCourse = (wants: Wants, course: Course, atMs: number, followed: Followed): Wants => {
  const { targetLow: _low, targetHigh: _high, ...lines } = wants;
  const target = targetOf(course, atMs, followed);
  return target === undefined
    ? lines
    : { ...lines, targetLow: target - course.within, targetHigh: target + course.within };
};

export type Schedule = Extract<Course, { kind: 'schedule' }>;
export type SchedulePoint = Schedule['points'][number];
/** From one point of a schedule to the next, with its rate in the canonical unit an hour; it falls below 0. */
export type Leg = { readonly from: SchedulePoint; readonly to: SchedulePoint; readonly perHour: number };

/** The legs of a schedule whose points are in order. Check: 18 to 24 within six days rises 1 a day, 0.0417 an hour. */
export const legsOf = (points: readonly SchedulePoint[]): readonly Leg[] =>
  points.slice(1).flatMap((to, index) => {
    const from = points[index];
    if (from === undefined || to.atMs <= from.atMs) return [];
    return [{ from, to, perHour: ((to.target - from.target) * HOUR_MS) / (to.atMs - from.atMs) }];
  });
