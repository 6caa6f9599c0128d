import { beyond, FLAG, type Flag, isPresent, type Series } from './flag.js';
import type { Stamped } from './spike.js';

/**
 * Rate of change over a series (QARTOD test 7), lines in units per second, exactly as the reference implementation:
 * the first point and the point after a hole pass, and seconds are truncated to whole ones; within the same second the
 * undivided difference is compared. A gateway near one reading a second cannot use that: see `stepRate`.
 */
export const rateOfChangeFlags = (
  values: Series,
  stampsMs: readonly number[],
  lines: { readonly suspectPerSecond: number; readonly failPerSecond?: number | undefined },
): Flag[] =>
  values.map((value, n) => {
    const before = values[n - 1];
    if (!isPresent(value)) return FLAG.missing;
    if (!isPresent(before)) return FLAG.pass;
    const seconds = Math.trunc(((stampsMs[n] ?? 0) - (stampsMs[n - 1] ?? 0)) / 1000);
    const change = Math.abs(value - before);
    return beyond(seconds === 0 ? change : change / seconds, lines.suspectPerSecond, lines.failPerSecond);
  });

/**
 * Rate of change of a tank: suspect above `perHour`, against the oldest reading of the last `windowMs`; a base shorter
 * than `minBaseMs` is not evaluated.
 */
export type RateSettings = { readonly perHour: number; readonly windowMs: number; readonly minBaseMs: number };

/** The readings of the window that later ones are compared with, oldest first. */
export type RateBases = readonly Stamped[];

/** Bases closer together than this part of the window are not kept, so that a fast probe needs no more than a slow one. */
const BASES_IN_WINDOW = 16;

/**
 * One reading further. Adapted: over a base of time in real-valued seconds, because between neighbours at 10 s a single
 * step of 0.1 °C looks like 36 °C an hour. Never more than suspect: a fast change is what the watch is for.
 * The oldest base may be up to a sixteenth of the window younger than the oldest reading. Common practice, no source.
 */
export const stepRate = (
  bases: RateBases,
  reading: Stamped,
  settings: RateSettings,
): { readonly bases: RateBases; readonly flag: Flag } => {
  const inWindow = within(bases, reading.atMs - settings.windowMs);
  const newest = inWindow.at(-1);
  const isFar = newest === undefined || reading.atMs - newest.atMs >= settings.windowMs / BASES_IN_WINDOW;
  return { bases: isFar ? [...inWindow, reading] : inWindow, flag: rateFlag(inWindow[0], reading, settings) };
};

/**
 * The rate that one step of the resolution already makes over the shortest base, units per hour; `perHour` must exceed
 * it. Check value: 0.1 °C over 60 s is 6 °C an hour.
 */
export const rateOfOneStep = (resolution: number, minBaseMs: number): number => (resolution * 3_600_000) / minBaseMs;

const rateFlag = (base: Stamped | undefined, reading: Stamped, { perHour, minBaseMs }: RateSettings): Flag => {
  const baseMs = base === undefined ? 0 : reading.atMs - base.atMs;
  if (base === undefined || baseMs <= 0 || baseMs < minBaseMs) return FLAG.notEvaluated;
  return (Math.abs(reading.value - base.value) * 3_600_000) / baseMs > perHour ? FLAG.suspect : FLAG.pass;
};

/** The bases from `sinceMs` on; the same array when none fell out. */
const within = (bases: RateBases, sinceMs: number): RateBases => {
  let first = 0;
  while (first < bases.length && (bases[first]?.atMs ?? sinceMs) < sinceMs) first += 1;
  return first === 0 ? bases : bases.slice(first);
};
