import type { ProbeNow } from './state.js';

const KEPT = 7;

/**
 * Learns a board's period as the median of its last seven intervals: one gap, or one burst, does not move it.
 * Undefined until three intervals were seen.
 */
export const learnPeriod = (
  { newestMs, intervals, periodMs }: Pick<ProbeNow, 'newestMs' | 'intervals' | 'periodMs'>,
  atMs: number,
): { readonly intervals: readonly number[]; readonly periodMs?: number | undefined } => {
  const before = { intervals, periodMs };
  if (newestMs === undefined) return before;
  // Once full, look again only every few readings' worth of change: an interval like the period teaches nothing new.
  if (periodMs !== undefined && Math.abs(atMs - newestMs - periodMs) <= periodMs / 10) return before;
  const next = [...intervals.slice(1 - KEPT), atMs - newestMs];
  const middle = next.toSorted((a, b) => a - b)[next.length >> 1];
  return { intervals: next, ...(next.length < 3 || middle === undefined ? {} : { periodMs: Math.max(1, middle) }) };
};
