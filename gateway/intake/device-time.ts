import type { DeviceTime } from './decoded.js';

/** A JSON stamp below this counts seconds, from here on milliseconds: 1973-03-03 in ms, the year 5138 in s. */
const MILLISECONDS_FROM = 1e11;
/** The last millisecond that a date can have (ECMA-262, time values). */
const LAST_MS = 8.64e15;
/** ISO 8601 with its zone; without one the moment is not known, and is not guessed. */
const ISO_8601 = /^(\d{4})-(\d{2})-(\d{2})[Tt ]\d{2}:\d{2}(:\d{2}([.,](\d+))?)?([Zz]|[+-]\d{2}:?\d{2})$/;

/** A stamp of the board's clock, counted from 1970; undefined where it is no date at all. */
export const stampFromSeconds = (seconds: number): DeviceTime | undefined =>
  stampAt(Math.round(seconds * 1000), Number.isInteger(seconds) ? 1000 : 1);

/** So many seconds from the arrival, negative = before it. */
export const agedFromSeconds = (seconds: number, arrivalMs: number): DeviceTime | undefined => {
  const stamp = stampAt(arrivalMs + Math.round(seconds * 1000), Number.isInteger(seconds) ? 1000 : 1);
  return stamp === undefined ? undefined : { ...stamp, kind: 'aged' };
};

/** The time field of a JSON object: seconds, milliseconds, either as a text, or ISO 8601 with zone. */
export const stampFromJson = (sent: unknown): DeviceTime | undefined => {
  if (typeof sent === 'number') return stampFromCount(sent);
  if (typeof sent !== 'string') return undefined;
  const text = sent.trim();
  return /^\d+(\.\d+)?$/.test(text) ? stampFromCount(Number(text)) : stampFromIso(text);
};

const stampFromCount = (count: number): DeviceTime | undefined =>
  Math.abs(count) < MILLISECONDS_FROM ? stampFromSeconds(count) : stampAt(Math.round(count), 1);

const stampFromIso = (text: string): DeviceTime | undefined => {
  const parts = ISO_8601.exec(text);
  if (parts === null || !isCalendarDay(Number(parts[1]), Number(parts[2]), Number(parts[3]))) return undefined;
  const written = text.toUpperCase().replace(' ', 'T').replace(',', '.');
  return stampAt(Date.parse(written.replace(/([+-]\d{2})(\d{2})$/, '$1:$2')), parts[5] === undefined ? 1000 : 1);
};

/** Date.parse takes 30 February for 2 March. */
const isCalendarDay = (year: number, month: number, day: number): boolean =>
  new Date(Date.UTC(year, month - 1, day)).getUTCDate() === day;

const stampAt = (deviceMs: number, resolutionMs: 1 | 1000): DeviceTime | undefined =>
  Number.isFinite(deviceMs) && Math.abs(deviceMs) <= LAST_MS ? { kind: 'stamped', deviceMs, resolutionMs } : undefined;
