import type { Span } from '../../rules/review/piece.js';
import type { ChannelReadings } from '../../rules/wire/api.js';
import { wallMs } from '../../rules/words/clock.js';

const HOUR_MS = 3_600_000;
const DAY_MS = 24 * HOUR_MS;

export const LENGTHS = [
  [String(6 * HOUR_MS), '6 hours'],
  [String(DAY_MS), 'a day'],
  [String(7 * DAY_MS), 'a week'],
  [String(31 * DAY_MS), 'a month'],
  [String(366 * DAY_MS), 'a year'],
] as const;

/** Longer than any hatchery's record, and short enough that the axis still means something. */
const LONGEST_MS = 20 * 366 * DAY_MS;

/** Of two local moments as they stand in their fields: the span, or which field is wrong and how to mend it. */
export const rangeOf = (
  from: string,
  to: string,
  zone: string,
): { readonly span: Span } | { readonly field: 'from' | 'to'; readonly detail: string } => {
  const [fromMs, toMs] = [wallMs(from, zone), wallMs(to, zone)];
  if (fromMs === undefined) return { field: 'from', detail: 'A day and a time, as on the wall: 14.07.2026 03:00.' };
  if (toMs === undefined) return { field: 'to', detail: 'A day and a time, as on the wall: 15.07.2026 03:00.' };
  if (toMs <= fromMs) return { field: 'to', detail: 'It ends before it begins: choose a later end.' };
  if (toMs - fromMs > LONGEST_MS) return { field: 'from', detail: 'Twenty years at most.' };
  return { span: { fromMs, toMs } };
};

/** Readings as if they had been taken so much later: an earlier batch under the clock of this one. */
export const shifted = (readings: ChannelReadings, byMs: number): ChannelReadings => ({
  ...readings,
  fromMs: readings.fromMs + byMs,
  toMs: readings.toMs + byMs,
  atMs: readings.atMs.map((atMs) => atMs + byMs),
  gaps: readings.gaps.map((gap) => ({ ...gap, fromMs: gap.fromMs + byMs, toMs: gap.toMs + byMs })),
});

/** The part of an earlier stay that lies under the span, by its own clock; undefined when none does. */
export const underSpan = (
  span: Span,
  stay: { readonly fromMs: number; readonly toMs?: number },
  laterByMs: number,
): Span | undefined => {
  const fromMs = Math.max(span.fromMs - laterByMs, stay.fromMs);
  const toMs = Math.min(span.toMs - laterByMs, stay.toMs ?? Number.POSITIVE_INFINITY);
  return fromMs < toMs ? { fromMs, toMs } : undefined;
};
