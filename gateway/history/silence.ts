import type { TimeSpan } from '../journal/gateway-runs.js';
import { medianOf } from './median.js';

/** A stretch between two readings, with the rhythm that the board kept on either side of it. */
export type Silence = TimeSpan & { readonly before: readonly number[]; readonly after: number[] };

/** Spacings on each side that tell a rhythm: as many as the engine learns a period from. */
const KEPT = 7;

export type SilenceFinder = {
  readonly silences: readonly Silence[];
  /** Rhythms at the first and the last reading. */
  readonly first: readonly number[];
  readonly last: readonly number[];
  /** Time from one reading to the next. */
  spacing(fromMs: number, toMs: number): void;
  /** Readings of one hour taken together, evenly spaced. */
  even(spacingMs: number): void;
};

/** Collects spacings longer than `shortestMs`, each with its neighbours: a board that changed its rhythm was not silent. */
export const buildSilenceFinder = (shortestMs: number): SilenceFinder => {
  const silences: Silence[] = [];
  const first: number[] = [];
  const last: number[] = [];
  let waiting: Silence[] = [];

  const even = (spacingMs: number): void => {
    for (const silence of waiting) silence.after.push(spacingMs);
    if (waiting.length > 0) waiting = waiting.filter(({ after }) => after.length < KEPT);
    if (first.length < KEPT) first.push(spacingMs);
    last.push(spacingMs);
    if (last.length > KEPT) last.shift();
  };
  const spacing = (fromMs: number, toMs: number): void => {
    const silence = toMs - fromMs > shortestMs ? { fromMs, toMs, before: [...last], after: [] } : undefined;
    if (toMs > fromMs) even(toMs - fromMs);
    if (silence === undefined) return;
    silences.push(silence);
    waiting.push(silence);
  };
  return { silences, first, last, spacing, even };
};

/**
 * The slower of the two rhythms around a silence, ms; undefined when there is too little on both sides to know one.
 * Three spacings make a rhythm.
 */
export const rhythmMs = ({ before, after }: Pick<Silence, 'before' | 'after'>): number | undefined => {
  const known = [before, after].flatMap((side) => (side.length < 3 ? [] : [medianOf(side) ?? 0]));
  return known.length === 0 ? undefined : Math.max(...known);
};
