import { localMoment } from '../words/clock.js';
import type { Person } from './person.js';
import type { Hour, LadderRole } from './policy.js';

export const WATCH_ROLES = ['on-call', 'backup'] as const;
export type WatchRole = (typeof WATCH_ROLES)[number];

/** Each week the same: from a local minute of a weekday (1 Monday … 7 Sunday) for so many minutes, past midnight or not. */
export type Shift = {
  readonly weekday: number;
  readonly fromMinute: number;
  readonly minutes: number;
  readonly role: WatchRole;
  readonly personId: string;
};

/** Somebody takes the watch for a span, whatever the week says. */
export type Swap = {
  readonly fromMs: number;
  readonly toMs: number;
  readonly role: WatchRole;
  readonly personId: string;
};

export type Holiday = { readonly personId: string; readonly fromMs: number; readonly toMs: number };

export type WatchPlan = {
  readonly shifts: readonly Shift[];
  readonly swaps: readonly Swap[];
  readonly holidays: readonly Holiday[];
  /** Local minutes of the day between which the room is manned: before and after it is night. */
  readonly dayFromMinute: number;
  readonly dayToMinute: number;
  /** Whom to telephone when nobody else answers. */
  readonly emergency?: { readonly name: string; readonly phone: string };
  /** When everybody is test-called each week, by the site's own clock; absent: only by hand. */
  readonly drill?: { readonly weekday: number; readonly minute: number };
};

export const NO_WATCH: WatchPlan = { shifts: [], swaps: [], holidays: [], dayFromMinute: 7 * 60, dayToMinute: 18 * 60 };

const MINUTE_MS = 60_000;
const DAY_MINUTES = 1_440;
const WEEK_MINUTES = 7 * DAY_MINUTES;

const isAway = ({ holidays }: WatchPlan, person: string, atMs: number): boolean =>
  holidays.some(({ personId, fromMs, toMs }) => personId === person && fromMs <= atMs && atMs < toMs);

/**
 * Who has a role at a moment, in the order of the plan. Weeks are read off the wall clock of the site: an hour that a
 * spring night skips is nobody's, and one that an autumn night repeats is the same person's twice.
 */
export const onWatch = (plan: WatchPlan, role: WatchRole, atMs: number, zone: string): readonly string[] => {
  const swapped = plan.swaps.filter((swap) => swap.role === role && swap.fromMs <= atMs && atMs < swap.toMs);
  const { weekday, minute } = localMoment(atMs, zone);
  const week = (weekday - 1) * DAY_MINUTES + minute;
  const planned = plan.shifts.filter((shift) => {
    const sinceStart = week - (shift.weekday - 1) * DAY_MINUTES - shift.fromMinute;
    return shift.role === role && (sinceStart + 2 * WEEK_MINUTES) % WEEK_MINUTES < shift.minutes;
  });
  const wanted = swapped.length > 0 ? swapped : planned;
  return [...new Set(wanted.map(({ personId }) => personId))].filter((person) => !isAway(plan, person, atMs));
};

/** Whether the room itself is manned, so that the wall speaks before a phone does. */
export const hourOf = (plan: WatchPlan, atMs: number, zone: string): Hour => {
  const { minute } = localMoment(atMs, zone);
  return minute >= plan.dayFromMinute && minute < plan.dayToMinute ? 'day' : 'night';
};

/**
 * Which ladder is climbed: by day the wall and the room speak first, but only while somebody is there to hear them. Where
 * nobody ever says whether they are on site, the hours of the plan count alone.
 */
export const ladderHour = (
  plan: WatchPlan,
  atMs: number,
  zone: string,
  presence?: { readonly onSite: boolean },
): Hour => (presence?.onSite === false ? 'night' : hourOf(plan, atMs, zone));

/** People of a role of the ladder who have some way to be reached. */
export const inRole = (
  plan: WatchPlan,
  people: readonly Person[],
  role: LadderRole,
  atMs: number,
  zone: string,
): readonly string[] => {
  const reachable = people.filter(({ ways }) => ways.length > 0);
  const ids = new Set(reachable.map(({ id }) => id));
  if (role === 'everybody') return [...ids];
  if (role === 'manager')
    return reachable.filter(({ id, manager }) => manager && !isAway(plan, id, atMs)).map(({ id }) => id);
  return onWatch(plan, role, atMs, zone).filter((id) => ids.has(id));
};

/** Everybody in the order in which they are called. */
export const callOrder = (
  plan: WatchPlan,
  people: readonly Person[],
  atMs: number,
  zone: string,
): readonly string[] => [
  ...new Set(
    (['on-call', 'backup', 'manager', 'everybody'] as const).flatMap((role) => inRole(plan, people, role, atMs, zone)),
  ),
];

/** A span in which nobody is on call who could be reached. */
export type WatchGap = { readonly fromMs: number; readonly toMs: number };

const STEP_MS = 15 * MINUTE_MS;

/** Every gap of the watch in a span, to a quarter of an hour: an empty watch is a fault that is told beforehand. */
export const watchGaps = (
  plan: WatchPlan,
  people: readonly Person[],
  { fromMs, toMs }: WatchGap,
  zone: string,
): readonly WatchGap[] => {
  const gaps: { fromMs: number; toMs: number }[] = [];
  for (let atMs = fromMs; atMs < toMs; atMs += STEP_MS) {
    if (inRole(plan, people, 'on-call', atMs, zone).length > 0) continue;
    const endMs = Math.min(toMs, atMs + STEP_MS);
    const last = gaps.at(-1);
    if (last !== undefined && last.toMs === atMs) last.toMs = endMs;
    else gaps.push({ fromMs: atMs, toMs: endMs });
  }
  return gaps;
};
