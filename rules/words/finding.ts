import { parseChannelId } from '../channel.js';
import type { Finding, Harm, Line, Remedy } from '../conditions/finding.js';
import type { Quantity } from '../quantity.js';
import { clockWords, durationWords, momentWords } from './clock.js';
import { phraseOf, WITHOUT_VALUE } from './condition.js';
import { evidenceWords, SCOPE_CODES } from './evidence.js';
import { fixedWords, roughWords } from './figure.js';
import { type ByLanguage, filled, inLanguage, type Reader } from './language.js';
import { namesFor } from './name.js';
import { differenceWords, lineWords, rateWords, spokenWords, unitWords, valueWords } from './number.js';

export type FindingContext = Reader & {
  /** Name of the place, as people call it. */
  readonly place: string;
  /** Names of other places that the finding may be about. */
  readonly nameOf?: (placeId: string) => string;
  readonly nowMs: number;
};

/** One finding in words. `left`, `to`, `about` and `between` are there when a time of harm could be computed. */
export type FindingSentence = {
  /** `29.9 °C, rising` */
  readonly headline: string;
  /** `heater looks stuck on, only this tank` */
  readonly cause: string;
  /** The same with how far it reaches as its only fact, for where there is little room. */
  readonly briefly: string;
  /** `44 min` */
  readonly left?: string;
  /** `to the 32 °C ceiling` */
  readonly to?: string;
  /** `about 03:05` */
  readonly about?: string;
  /** `02:55 to 03:20` */
  readonly between?: string;
  /** The three above in one: `to the 32 °C ceiling, about 03:05 (02:55 to 03:20)`. */
  readonly until?: string;
  /** `S1, S2, S3: three of four` where more tanks share it. */
  readonly together?: string;
  /** `Add 12 L of fresh water over at least 3 h, after measuring by hand` */
  readonly remedy?: string;
  /** `3.2 °C hours beyond the line so far` */
  readonly exposure?: string;
  /** `up 2.9 °C an hour` */
  readonly rate?: string;
  /** `since 01:40, 41 min` */
  readonly since: string;
  /** For a voice, units spelled out, with the priority. */
  readonly spoken: string;
};

type Table = {
  readonly line: { readonly [kind in Line['kind']]: { readonly [side in Line['side']]: string } };
  readonly rising: string;
  readonly falling: string;
  readonly up: string;
  readonly down: string;
  readonly to: string;
  readonly about: string;
  readonly between: string;
  readonly orLater: string;
  readonly reached: string;
  readonly since: string;
  readonly unconfirmed: string;
  readonly anyLine: string;
  readonly kind: { readonly [kind in Line['kind']]: string };
  readonly forecast: string;
  readonly water: { readonly [water in Remedy['add']]: string };
  readonly remedy: string;
  readonly exposure: string;
  readonly together: string;
  readonly itsBoard: string;
};

const WORDS: ByLanguage<Table> = {
  en: {
    line: {
      target: { low: 'the target of {value}', high: 'the target of {value}' },
      limit: { low: 'the {value} limit', high: 'the {value} limit' },
      ceiling: { low: 'the {value} floor', high: 'the {value} ceiling' },
    },
    rising: '{value}, rising',
    falling: '{value}, falling',
    up: 'up {rate}',
    down: 'down {rate}',
    to: 'to {line}',
    about: 'about {clock}',
    between: '{from} to {until}',
    orLater: '{from} or later',
    reached: 'may be there already',
    since: 'since {moment}, {length}',
    unconfirmed: 'limit not confirmed',
    anyLine: 'the line',
    kind: { target: 'off target', limit: 'limit', ceiling: 'ceiling' },
    forecast: '{kind} about {clock}',
    water: { 'fresh-water': 'fresh water', 'sea-water': 'sea water' },
    remedy: 'Measure by hand; then {litres} L of {water}, over no less than {hours} h',
    exposure: '{amount} {unit} hours beyond the line in {hours} h',
    together: '{names}: {count} of {total}',
    itsBoard: 'that it hangs on',
  },
};

/** The finding as a person reads it at three in the morning: what is measured, why, how long there is. */
export const findingSentence = (finding: Finding, context: FindingContext): FindingSentence => {
  const quantity = quantityOf(finding);
  const words = inLanguage(WORDS, context);
  const line = finding.line && quantity ? lineName(finding.line, quantity, context) : undefined;
  const blanks = { line: line ?? words.anyLine, ...blanksOf(finding, quantity, context) };
  const phrase = phraseOf(finding, context);
  const evidence = finding.evidence ?? [];
  const facts = evidence.map((code) => evidenceWords(code, context));
  const scope = evidence.filter((code) => SCOPE_CODES.includes(code)).map((code) => evidenceWords(code, context));
  const doubt = finding.unconfirmed === true ? [words.unconfirmed] : [];
  const cause = [filled(phrase.cause, blanks), ...facts, ...doubt].join(', ');
  const rate = rateOf(finding, quantity, context);
  const sentence = {
    headline: headlineOf(finding, quantity, context) ?? filled(phrase.still, blanks),
    cause,
    briefly: [filled(phrase.cause, blanks), ...scope.slice(0, 1), ...doubt].join(', '),
    since: sinceOf(finding, context),
    ...(rate === undefined ? {} : { rate }),
    ...furtherOf(finding, quantity, context),
    ...(finding.harm === undefined ? {} : harmWords(finding.harm, line, context)),
  };
  return { ...sentence, spoken: spokenOf(finding, quantity, cause, context) };
};

/** The line as people call it: `the 32 °C ceiling`. */
export const lineName = (line: Line, quantity: Quantity, reader: Reader): string =>
  filled(inLanguage(WORDS, reader).line[line.kind][line.side], { value: lineWords(quantity, line.value, reader) });

/** A forecast for a label: `ceiling about 03:05`, short `about 03:05`. */
export const forecastPhrase = (kind: Line['kind'], atMs: number, reader: Reader) => {
  const words = inLanguage(WORDS, reader);
  const blanks = { kind: words.kind[kind], clock: clockWords(atMs, reader) };
  return { long: filled(words.forecast, blanks), short: filled(words.about, blanks) };
};

const quantityOf = (finding: Finding): Quantity | undefined =>
  finding.channelId === undefined ? undefined : parseChannelId(finding.channelId)?.quantity;

const quantityName = (quantity: Quantity | undefined, context: FindingContext): string =>
  quantity === undefined ? context.place : namesFor(context).quantity[quantity];

const blanksOf = (finding: Finding, quantity: Quantity | undefined, context: FindingContext) => {
  const names = namesFor(context);
  return {
    quantity: quantityName(quantity, context),
    place: context.place,
    board: finding.boardId ?? inLanguage(WORDS, context).itsBoard,
    work: finding.work === undefined ? context.place : names.workItself[finding.work],
    task: finding.task === undefined ? context.place : names.task[finding.task],
  };
};

/** What only some findings have: who shares it, what to add, how much there has been. */
const furtherOf = (finding: Finding, quantity: Quantity | undefined, context: FindingContext) => {
  const words = inLanguage(WORDS, context);
  const { places = [], ofPlaces, remedy, exposure } = finding;
  const names = places.map((id) => context.nameOf?.(id) ?? id);
  return {
    ...(places.length < 2 || ofPlaces === undefined
      ? {}
      : {
          together: filled(words.together, {
            names: names.join(', '),
            count: String(places.length),
            total: String(ofPlaces),
          }),
        }),
    ...(remedy === undefined
      ? {}
      : {
          remedy: filled(words.remedy, {
            litres: roughWords(remedy.litres, context),
            water: words.water[remedy.add],
            hours: roughWords(remedy.overHours, context),
          }),
        }),
    ...(exposure === undefined || quantity === undefined
      ? {}
      : {
          exposure: filled(words.exposure, {
            amount: differenceWords(quantity, exposure.unitHours, context),
            unit: unitWords(quantity, context),
            hours: fixedWords(exposure.hours, 1, context),
          }),
        }),
  };
};

const headlineOf = (finding: Finding, quantity: Quantity | undefined, context: FindingContext): string | undefined => {
  if (finding.value === undefined || quantity === undefined) return undefined;
  if (WITHOUT_VALUE.includes(finding.condition)) return undefined;
  const value = valueWords(quantity, finding.value, context);
  const { rising, falling } = inLanguage(WORDS, context);
  const slope = finding.perHour ?? 0;
  return slope === 0 ? value : filled(slope > 0 ? rising : falling, { value });
};

const rateOf = (finding: Finding, quantity: Quantity | undefined, context: FindingContext): string | undefined => {
  if (finding.perHour === undefined || finding.perHour === 0 || quantity === undefined) return undefined;
  const { up, down } = inLanguage(WORDS, context);
  return filled(finding.perHour > 0 ? up : down, { rate: rateWords(quantity, finding.perHour, context) });
};

const sinceOf = (finding: Finding, context: FindingContext): string =>
  filled(inLanguage(WORDS, context).since, {
    moment: momentWords(finding.sinceMs, context.nowMs, context),
    length: durationWords(context.nowMs - finding.sinceMs, context),
  });

const harmWords = (harm: Harm, line: string | undefined, context: FindingContext) => {
  const words = inLanguage(WORDS, context);
  const to = filled(words.to, { line: line ?? words.anyLine });
  if (harm.atMs <= context.nowMs) return { to: words.reached, until: `${to}: ${words.reached}` };
  const from = clockWords(harm.earliestMs, context);
  const between =
    harm.latestMs === undefined
      ? filled(words.orLater, { from })
      : filled(words.between, { from, until: clockWords(harm.latestMs, context) });
  const about = filled(words.about, { clock: clockWords(harm.atMs, context) });
  const left = durationWords(harm.atMs - context.nowMs, context);
  return { left, to, about, between, until: `${to}, ${about} (${between})` };
};

/** Name of place, quantity and value spelled out, cause, priority: the order of an accessible name. */
const spokenOf = (finding: Finding, quantity: Quantity | undefined, cause: string, context: FindingContext): string => {
  const value =
    quantity === undefined || finding.value === undefined ? '' : ` ${spokenWords(quantity, finding.value, context)}`;
  const subject =
    quantity === undefined ? context.place : `${context.place} ${namesFor(context).quantity[quantity]}${value}`;
  return `${subject}, ${cause}, ${namesFor(context).priority[finding.priority]}`;
};
