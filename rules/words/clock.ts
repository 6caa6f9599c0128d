import { type ByLanguage, inLanguage, type Language, type Reader } from './language.js';

/**
 * Local clocks, days and daylight saving: the only module that knows them. Everything else counts UTC milliseconds.
 */
const SECOND_MS = 1000;
const MINUTE_MS = 60 * SECOND_MS;
const HOUR_MS = 60 * MINUTE_MS;
const DAY_MS = 24 * HOUR_MS;

const DURATION: ByLanguage<Readonly<Record<'second' | 'minute' | 'hour' | 'day', string>>> = {
  en: { second: 's', minute: 'min', hour: 'h', day: 'd' },
};
const LOCALE: ByLanguage<string> = { en: 'en-GB' };

type Style = 'clock-24' | 'clock-12' | 'day' | 'date' | 'year' | 'parts';
const STYLES: { readonly [style in Style]: Intl.DateTimeFormatOptions } = {
  'clock-24': { hour: '2-digit', minute: '2-digit', hourCycle: 'h23' },
  'clock-12': { hour: 'numeric', minute: '2-digit', hourCycle: 'h12' },
  day: { weekday: 'short', day: 'numeric' },
  date: { weekday: 'short', day: 'numeric', month: 'short' },
  year: { day: 'numeric', month: 'short', year: 'numeric' },
  parts: {
    year: 'numeric',
    month: '2-digit',
    day: '2-digit',
    hour: '2-digit',
    minute: '2-digit',
    second: '2-digit',
    hourCycle: 'h23',
  },
};

/** Making a formatter costs a thousand times its use, so each is made once; it holds no state of its own. */
const made = new Map<string, Intl.DateTimeFormat>();
const formatter = (style: Style, zone: string, language: Language = 'en'): Intl.DateTimeFormat => {
  const key = `${style} ${zone} ${language}`;
  const kept = made.get(key);
  if (kept !== undefined) return kept;
  const fresh = new Intl.DateTimeFormat(LOCALE[language], { ...STYLES[style], timeZone: zone });
  made.set(key, fresh);
  return fresh;
};

/** Whether the text names a zone that local times can be shown in. */
export const isZone = (text: string): boolean => {
  try {
    new Intl.DateTimeFormat('en', { timeZone: text });
    return true;
  } catch {
    return false;
  }
};

/** Hours and minutes on the wall: `02:21`, or `2:21 am` where people read twelve hours. */
export const clockWords = (atMs: number, { zone, hours, language }: Reader): string =>
  formatter(hours === 24 ? 'clock-24' : 'clock-12', zone, language)
    .format(atMs)
    .replaceAll(/[\u00a0\u202f]/g, ' ')
    .toLowerCase();

/** Weekday and day of the month: `Wed 25`. */
export const dayWords = (atMs: number, { zone, language }: Reader): string =>
  formatter('day', zone, language).format(atMs).replace(',', '');

/** Weekday, day and month: `Wed 25 Nov`. */
export const dateWords = (atMs: number, { zone, language }: Reader): string =>
  formatter('date', zone, language).format(atMs).replace(',', '');

/** For paper that is kept: `25 Nov 2026`. */
export const yearWords = (atMs: number, { zone, language }: Reader): string =>
  formatter('year', zone, language).format(atMs);

/** The clock alone on the same local day, else the day before it: `02:21`, `Tue 24, 22:40`. */
export const momentWords = (atMs: number, nowMs: number, reader: Reader): string =>
  dayStartMs(atMs, reader.zone) === dayStartMs(nowMs, reader.zone)
    ? clockWords(atMs, reader)
    : `${dayWords(atMs, reader)}, ${clockWords(atMs, reader)}`;

/** `40 s`, `24 min`, `2 h 10 min`, `3 d`; rounded down, so that time left is never promised. Below zero counts as zero. */
export const durationWords = (lengthMs: number, reader: { readonly language?: Language } = {}): string => {
  const { second, minute, hour, day } = inLanguage(DURATION, reader);
  const ms = Math.max(0, lengthMs);
  if (ms < MINUTE_MS) return `${Math.floor(ms / SECOND_MS)} ${second}`;
  if (ms < HOUR_MS) return `${Math.floor(ms / MINUTE_MS)} ${minute}`;
  if (ms < DAY_MS) {
    const minutes = Math.floor((ms % HOUR_MS) / MINUTE_MS);
    return `${Math.floor(ms / HOUR_MS)} ${hour}${minutes === 0 ? '' : ` ${minutes} ${minute}`}`;
  }
  if (ms < 2 * DAY_MS) return `${Math.floor(ms / HOUR_MS)} ${hour}`;
  return `${Math.floor(ms / DAY_MS)} ${day}`;
};

/** Local wall clock minus UTC at that moment, in milliseconds: +3,600,000 for an hour east of Greenwich. */
export const zoneOffsetMs = (atMs: number, zone: string): number => {
  const part: Record<string, number> = {};
  for (const { type, value } of formatter('parts', zone).formatToParts(atMs)) part[type] = Number(value);
  const { year = 0, month = 1, day = 1, hour = 0, minute = 0, second = 0 } = part;
  return Date.UTC(year, month - 1, day, hour, minute, second) - Math.floor(atMs / SECOND_MS) * SECOND_MS;
};

/** What the clock on the wall and the calendar beside it say: weekday (1 Monday … 7 Sunday) and minute of the day. */
export const localMoment = (atMs: number, zone: string): { readonly weekday: number; readonly minute: number } => {
  const localMs = atMs + zoneOffsetMs(atMs, zone);
  const day = Math.floor(localMs / DAY_MS);
  // 1 January 1970 was a Thursday.
  return { weekday: ((((day + 3) % 7) + 7) % 7) + 1, minute: Math.floor((localMs - day * DAY_MS) / MINUTE_MS) };
};

/** What a field for a local moment holds (HTML `datetime-local`): `2030-05-01T03:05`. */
export const wallText = (atMs: number, zone: string): string =>
  new Date(atMs + zoneOffsetMs(atMs, zone)).toISOString().slice(0, 16);

/**
 * The moment at which the wall clock of a zone shows the text; undefined when it is no moment. Of an hour that comes twice
 * the first is meant; a time that the clock jumps over is read as if it had not jumped yet.
 */
export const wallMs = (text: string, zone: string): number | undefined => {
  if (!/^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}$/.test(text)) return undefined;
  const plainMs = Date.parse(`${text}:00Z`);
  if (!Number.isFinite(plainMs) || new Date(plainMs).toISOString().slice(0, 16) !== text) return undefined;
  const offsets = [plainMs - DAY_MS, plainMs + DAY_MS].map((atMs) => zoneOffsetMs(atMs, zone));
  const found = offsets.map((offset) => plainMs - offset).filter((atMs) => wallText(atMs, zone) === text);
  return found.length > 0 ? Math.min(...found) : plainMs - (offsets[0] ?? 0);
};

/** Number of the local day since 1970, the same for every moment of it. */
const localDay = (atMs: number, zone: string): number => Math.floor((atMs + zoneOffsetMs(atMs, zone)) / DAY_MS);

/**
 * The first moment of the local day that holds `atMs`, to the second. Found by halving, so a day that begins at
 * 01:00 because midnight was skipped comes out right, and days of 23 and 25 hours need no rule of their own.
 */
export const dayStartMs = (atMs: number, zone: string): number => {
  const day = localDay(atMs, zone);
  let before = Math.floor(atMs / SECOND_MS) - (26 * HOUR_MS) / SECOND_MS;
  let inside = Math.floor(atMs / SECOND_MS);
  while (inside - before > 1) {
    const middle = Math.floor((before + inside) / 2);
    if (localDay(middle * SECOND_MS, zone) === day) inside = middle;
    else before = middle;
  }
  return inside * SECOND_MS;
};

/** The first moment of the next local day. */
export const nextDayMs = (atMs: number, zone: string): number =>
  dayStartMs(dayStartMs(atMs, zone) + 27 * HOUR_MS, zone);

/** Every start of a local day from `fromMs` to before `toMs`, oldest first. */
export const dayStarts = (fromMs: number, toMs: number, zone: string): readonly number[] => {
  const starts: number[] = [];
  const first = dayStartMs(fromMs, zone);
  for (let at = first < fromMs ? nextDayMs(fromMs, zone) : first; at < toMs; at = nextDayMs(at, zone)) starts.push(at);
  return starts;
};

/** Local clock hours that divide the day evenly (`everyHours` 1, 2, 3, 4, 6, 8 or 12), from `fromMs` to before `toMs`. */
export const clockTicks = (fromMs: number, toMs: number, everyHours: number, zone: string): readonly number[] => {
  const ticks: number[] = [];
  for (let day = dayStartMs(fromMs, zone); day < toMs; day = nextDayMs(day, zone)) {
    const next = nextDayMs(day, zone);
    const startOffset = zoneOffsetMs(day, zone);
    for (let hour = 0; hour < 24; hour += everyHours) {
      const even = day + hour * HOUR_MS;
      const at = even - (zoneOffsetMs(even, zone) - startOffset);
      if (at >= fromMs && at < Math.min(toMs, next)) ticks.push(at);
    }
  }
  return ticks;
};
