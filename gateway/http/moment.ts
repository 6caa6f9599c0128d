import { fault, ok, type Result } from '../../rules/result.js';
import { zoneOffsetMs } from '../../rules/words/clock.js';

const ISO = /^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}(?::\d{2}(?:\.\d{1,3})?)?(?:Z|[+-]\d{2}:\d{2})$/;

/** The last millisecond that ISO 8601 writes with four digits of a year. */
const LATEST_MS = Date.UTC(9999, 11, 31, 23, 59, 59, 999);

/** What an address may hold for a moment, for JSON Schema and for a person. */
export const MOMENT = {
  type: 'string',
  pattern: '^(?:\\d{1,15}|\\d{4}-\\d{2}-\\d{2}T\\d{2}:\\d{2}(?::\\d{2}(?:\\.\\d{1,3})?)?(?:Z|[+-]\\d{2}:\\d{2}))$',
  description: 'a moment: milliseconds since 1970, or ISO 8601 with its offset, as in 2030-05-01T03:05:00-04:00',
} as const;

/** UTC milliseconds; undefined when the text names no moment. */
export const parseMoment = (text: string): number | undefined => {
  const atMs = /^\d{1,15}$/.test(text) ? Number(text) : ISO.test(text) ? Date.parse(text) : Number.NaN;
  return Number.isFinite(atMs) && atMs >= 0 && atMs <= LATEST_MS ? atMs : undefined;
};

export type Span = { readonly fromMs: number; readonly toMs: number };
export type SpanFault = 'request-not-understood' | 'span-backwards';

/** A span of time, its end not included. */
export const parseSpan = (from: string, to: string): Result<Span, SpanFault> => {
  const [fromMs, toMs] = [parseMoment(from), parseMoment(to)];
  if (fromMs === undefined || toMs === undefined) return fault('request-not-understood');
  return fromMs < toMs ? ok({ fromMs, toMs }) : fault('span-backwards');
};

const two = (number: number): string => String(number).padStart(2, '0');

/** Local time with its offset, to the millisecond: `2030-05-01T03:05:00.000-04:00`. Exact through both daylight-saving nights. */
export const isoWithOffset = (atMs: number, zone: string): string => {
  const offsetMs = zoneOffsetMs(atMs, zone);
  const minutes = Math.round(Math.abs(offsetMs) / 60_000);
  const sign = offsetMs < 0 ? '-' : '+';
  const local = new Date(atMs + offsetMs).toISOString().slice(0, -1);
  return `${local}${sign}${two(Math.floor(minutes / 60))}:${two(minutes % 60)}`;
};
