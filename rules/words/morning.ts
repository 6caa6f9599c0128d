import type { MorningReport, MorningRow, MorningWaking } from '../alerts/morning.js';
import { parseChannelId } from '../channel.js';
import { clockWords, durationWords, momentWords } from './clock.js';
import { lackWords } from './lack.js';
import { type ByLanguage, filled, inLanguage, type Reader } from './language.js';
import { namesFor, quantityName } from './name.js';
import { valueWords } from './number.js';

type Table = {
  readonly title: string;
  readonly calm: string;
  readonly limit: string;
  readonly target: string;
  readonly silent: string;
  readonly inTarget: string;
  readonly calmTanks: string;
  readonly milder: string;
  readonly milderOutside: string;
  readonly oxygen: string;
  readonly span: string;
  readonly called: string;
  readonly answered: string;
  readonly nobody: string;
  readonly forecasts: string;
  readonly noForecasts: string;
  readonly overdue: string;
  readonly notWatched: string;
  readonly more: string;
  readonly unconfirmed: string;
};

const WORDS: ByLanguage<Table> = {
  en: {
    title: 'The night: {count} of {total} tanks outside a limit',
    calm: 'The night: no tank outside a limit',
    limit: '{length} outside its limit',
    target: '{length} outside its target',
    silent: '{length} silent',
    inTarget: 'in its target',
    calmTanks: 'In their target all night: {names}{oxygen}',
    milder: 'For less time outside: {names}',
    milderOutside: 'For less time outside: {names}; {count} of them outside a limit too',
    oxygen: 'oxygen down to {value} at {clock}',
    span: '{low} to {high}',
    called: '{place}, {moment}: {count} calls, {answer}',
    answered: '{name} answered after {length}',
    nobody: 'nobody answered',
    forecasts: 'Forecasts: {count}, came as foretold {right}, averted {averted}',
    noForecasts: 'No harm was foretold',
    overdue: 'Overdue: {list}',
    notWatched: 'Not watched: {list}',
    more: 'and {count} more',
    unconfirmed: 'Limits that the hatchery has not confirmed: {count} channels. They are watched, and sound',
  },
};

type NameOf = (placeId: string) => string;

export const morningTitle = ({ rows }: MorningReport, reader: Reader): string => {
  const words = inLanguage(WORDS, reader);
  const outside = rows.filter(({ outsideLimitMs }) => outsideLimitMs > 0).length;
  return outside === 0 ? words.calm : filled(words.title, { count: String(outside), total: String(rows.length) });
};

/** One tank's night: how long it lay outside, its lowest oxygen and the hour, the span of its temperature. */
export const morningRowFacts = (row: MorningRow, reader: Reader): readonly string[] => {
  const words = inLanguage(WORDS, reader);
  const { lowestOxygen, lowestC, highestC } = row;
  const spent = (ms: number, sentence: string): readonly string[] =>
    ms === 0 ? [] : [filled(sentence, { length: durationWords(ms, reader) })];
  const outside = [
    ...spent(row.outsideLimitMs, words.limit),
    ...spent(row.outsideTargetMs, words.target),
    ...spent(row.silentMs, words.silent),
  ];
  const degrees = (value: number): string => valueWords('temperature', value, reader);
  return [
    ...(outside.length === 0 ? [words.inTarget] : outside),
    ...(lowestOxygen === undefined
      ? []
      : [
          filled(words.oxygen, {
            value: valueWords('oxygen-saturation', lowestOxygen.value, reader),
            clock: clockWords(lowestOxygen.atMs, reader),
          }),
        ]),
    ...(lowestC === undefined || highestC === undefined
      ? []
      : [filled(words.span, { low: degrees(lowestC.value), high: degrees(highestC.value) })]),
  ];
};

/** Neither outside its target nor silent for a moment. */
export const isCalm = ({ outsideLimitMs, outsideTargetMs, silentMs }: MorningRow): boolean =>
  outsideLimitMs + outsideTargetMs + silentMs === 0;

/** `In their target all night: B2, B3; oxygen down to 97 % at 13:30 (B3)`: tanks of which there is nothing else to say. */
export const morningCalmLine = (rows: readonly MorningRow[], nameOf: NameOf, reader: Reader): string => {
  const words = inLanguage(WORDS, reader);
  const [lowest] = rows
    .flatMap(({ placeId, lowestOxygen }) => (lowestOxygen === undefined ? [] : [{ placeId, ...lowestOxygen }]))
    .toSorted((a, b) => a.value - b.value);
  const names = rows.map(({ placeId }) => nameOf(placeId)).join(', ');
  if (lowest === undefined) return filled(words.calmTanks, { names, oxygen: '' });
  const value = valueWords('oxygen-saturation', lowest.value, reader);
  const oxygen = filled(words.oxygen, { value, clock: clockWords(lowest.atMs, reader) });
  return filled(words.calmTanks, { names, oxygen: `; ${oxygen} (${nameOf(lowest.placeId)})` });
};

/** `For less time outside: B2, B3; 1 of them outside a limit too`: tanks that come after the worst. */
export const morningMilderLine = (rows: readonly MorningRow[], nameOf: NameOf, reader: Reader): string => {
  const words = inLanguage(WORDS, reader);
  const outside = rows.filter(({ outsideLimitMs }) => outsideLimitMs > 0).length;
  const names = rows.map(({ placeId }) => nameOf(placeId)).join(', ');
  return filled(outside === 0 ? words.milder : words.milderOutside, { names, count: String(outside) });
};

/** `L2, 02:25: 4 calls, Asta answered after 11 min`. */
export const morningWakingLine = (waking: MorningWaking, place: string, nowMs: number, reader: Reader): string => {
  const words = inLanguage(WORDS, reader);
  const { answeredMs, answeredBy, atMs, calls } = waking;
  const answer =
    answeredMs === undefined
      ? words.nobody
      : filled(words.answered, { name: answeredBy ?? '?', length: durationWords(answeredMs - atMs, reader) });
  return filled(words.called, { place, moment: momentWords(atMs, nowMs, reader), count: String(calls), answer });
};

/** What was foretold and came, what is overdue, what nobody watches. */
export const morningRest = (
  { forecasts, overdue, notWatched, lacks, toMs }: MorningReport,
  nameOf: NameOf,
  reader: Reader,
): readonly string[] => {
  const words = inLanguage(WORDS, reader);
  const scored = (outcome: string): string => String(forecasts.filter((one) => one.outcome === outcome).length);
  const list = overdue.map(({ placeId, task }) => `${nameOf(placeId)} ${task.replaceAll('-', ' ')}`).join(', ');
  return [
    forecasts.length === 0
      ? words.noForecasts
      : filled(words.forecasts, {
          count: String(forecasts.length),
          right: scored('in-interval'),
          averted: scored('averted'),
        }),
    ...(list === '' ? [] : [filled(words.overdue, { list })]),
    ...lacks.map((lack) => lackWords(lack, toMs, reader)),
    ...notWatchedLines(notWatched, nameOf, reader),
  ];
};

const MOST_CHANNELS = 8;

/** `Not watched: L2 oxygen (silent), L4 salinity (muted)`; limits that nobody confirmed are counted apart. */
const notWatchedLines = (rows: MorningReport['notWatched'], nameOf: NameOf, reader: Reader): readonly string[] => {
  const words = inLanguage(WORDS, reader);
  const why: Readonly<Record<string, string>> = namesFor(reader).notWatched;
  const blind = rows.filter((row) => row.why !== 'unconfirmed');
  const named = blind.slice(0, MOST_CHANNELS).map((row) => {
    const channel = parseChannelId(row.channelId);
    if (channel === undefined) return row.channelId;
    return `${nameOf(channel.placeId)} ${quantityName(channel.quantity, reader)} (${why[row.why] ?? row.why})`;
  });
  const rest = blind.length - named.length;
  const list = [...named, ...(rest === 0 ? [] : [filled(words.more, { count: String(rest) })])].join(', ');
  const unconfirmed = rows.length - blind.length;
  return [
    ...(list === '' ? [] : [filled(words.notWatched, { list })]),
    ...(unconfirmed === 0 ? [] : [filled(words.unconfirmed, { count: String(unconfirmed) })]),
  ];
};

/** The whole report in lines, worst first, for a mail. */
export const morningLines = (report: MorningReport, nameOf: NameOf, reader: Reader): readonly string[] => [
  ...report.rows
    .filter((row) => !isCalm(row))
    .map((row) => `${nameOf(row.placeId)}: ${morningRowFacts(row, reader).join(', ')}`),
  ...(report.rows.some(isCalm) ? [morningCalmLine(report.rows.filter(isCalm), nameOf, reader)] : []),
  ...report.wakings.map((waking) => morningWakingLine(waking, nameOf(waking.placeId), report.toMs, reader)),
  ...morningRest(report, nameOf, reader),
];
