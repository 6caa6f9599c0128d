import type { Quantity } from '../quantity.js';
import type { ChannelPicture, WorkPicture } from '../wire/picture.js';
import { durationWords } from './clock.js';
import { type ByLanguage, filled, inLanguage, type Reader } from './language.js';
import { namesFor } from './name.js';
import { spanWords, spokenWords, valueWords } from './number.js';

/** The same thing said longer and shorter; a label takes the longest that fits. */
export type Phrase = { readonly long: string; readonly short: string; readonly shortest?: string };

/** Every form of a phrase, the longest first. */
export const formsOf = ({ long, short, shortest }: Phrase): readonly string[] =>
  shortest === undefined ? [long, short] : [long, short, shortest];

type Direction = { readonly low: string; readonly high: string };
type Table = {
  readonly silent: string;
  readonly silentShort: string;
  readonly implausible: string;
  readonly implausibleShort: string;
  readonly implausibleShortest: string;
  readonly outOfWater: string;
  readonly outOfWaterShort: string;
  readonly left: string;
  readonly overdue: string;
  readonly all: string;
  readonly some: string;
  readonly allShort: string;
  readonly someShort: string;
  readonly alone: string;
  readonly beyond: Direction;
  readonly beyondShort: Direction;
  readonly target: string;
  readonly limit: string;
  readonly unwatched: string;
  readonly numbers: readonly string[];
  readonly than: { readonly [quantity in Quantity]?: Direction };
  readonly other: Direction;
  readonly states: { readonly [state in ChannelPicture['state']]: string };
};

const WORDS: ByLanguage<Table> = {
  en: {
    silent: '{quantity} silent {length}',
    silentShort: '{short} silent',
    implausible: '{quantity} not plausible',
    implausibleShort: '{quantity}?',
    implausibleShortest: '{short}?',
    outOfWater: '{quantity} out of water {length}',
    outOfWaterShort: 'out of water',
    left: '{work}, {length} left',
    overdue: '{work}, {length} over time',
    all: 'all {count} {direction} than target',
    some: '{count} of {total} {direction} than target',
    allShort: 'all {count} {direction}',
    someShort: '{count} of {total} {direction}',
    alone: '{direction} than target',
    beyond: { low: 'under its limit', high: 'over its limit' },
    beyondShort: { low: 'under limit', high: 'over limit' },
    target: 'target {span}',
    limit: 'limit {span}',
    unwatched: 'not watched',
    numbers: ['no', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine', 'ten', 'eleven', 'twelve'],
    than: {
      temperature: { low: 'colder', high: 'warmer' },
      salinity: { low: 'fresher', high: 'saltier' },
      conductivity: { low: 'fresher', high: 'saltier' },
      'specific-conductance': { low: 'fresher', high: 'saltier' },
      'oxygen-saturation': { low: 'lower in oxygen', high: 'higher in oxygen' },
      'oxygen-mg-l': { low: 'lower in oxygen', high: 'higher in oxygen' },
      level: { low: 'lower in level', high: 'higher in level' },
      ph: { low: 'lower in pH', high: 'higher in pH' },
    },
    other: { low: 'lower', high: 'higher' },
    states: {
      'in-target': 'in target',
      'outside-target': 'outside target',
      'outside-limit': 'outside limit',
      'out-of-water': 'out of water',
      'not-plausible': 'not plausible',
      silent: 'silent',
    },
  },
};

/** A number of tanks in words up to twelve. */
export const countWords = (count: number, reader: Reader): string =>
  inLanguage(WORDS, reader).numbers[count] ?? String(count);

/** What is to be said of a channel that is not lying in the water: `oxygen 74 %`, `oxygen silent 12 min`. */
export const channelPhrase = (channel: ChannelPicture, nowMs: number, reader: Reader): Phrase => {
  const words = inLanguage(WORDS, reader);
  const names = namesFor(reader);
  const blanks = {
    quantity: names.quantity[channel.quantity],
    short: names.short[channel.quantity],
    length: durationWords(
      nowMs - (channel.state === 'silent' ? (channel.atMs ?? channel.sinceMs) : channel.sinceMs),
      reader,
    ),
  };
  const say = (long: string, short: string): Phrase => ({ long: filled(long, blanks), short: filled(short, blanks) });
  if (channel.state === 'silent') return say(words.silent, words.silentShort);
  if (channel.state === 'not-plausible')
    return { ...say(words.implausible, words.implausibleShort), shortest: filled(words.implausibleShortest, blanks) };
  if (channel.state === 'out-of-water') return say(words.outOfWater, words.outOfWaterShort);
  if (channel.value === undefined) return { long: blanks.quantity, short: blanks.short };
  const value = valueWords(channel.quantity, channel.value, reader);
  if (channel.quantity === 'ph') return { long: value, short: value };
  return { long: `${blanks.quantity} ${value}`, short: `${blanks.short} ${value}` };
};

/** On which side of its target, else of its limit, a value lies; undefined inside. */
export const sideOf = ({ value, wants }: Pick<ChannelPicture, 'value' | 'wants'>): 'low' | 'high' | undefined => {
  const low = wants?.targetLow ?? wants?.limitLow;
  const high = wants?.targetHigh ?? wants?.limitHigh;
  if (value === undefined) return undefined;
  if (low !== undefined && value < low) return 'low';
  return high !== undefined && value > high ? 'high' : undefined;
};

/** Where the value itself already stands beside it: `warmer than target`, short `warmer`. */
export const directionPhrase = (channel: ChannelPicture, reader: Reader): Phrase | undefined => {
  const side = sideOf(channel);
  if (side === undefined) return undefined;
  const words = inLanguage(WORDS, reader);
  if (channel.state === 'outside-limit') return { long: words.beyond[side], short: words.beyondShort[side] };
  const direction = (words.than[channel.quantity] ?? words.other)[side];
  return { long: filled(words.alone, { direction }), short: direction };
};

/** Declared work and the time it still has: `drained, 24 min left`. */
export const workPhrase = (work: WorkPicture, nowMs: number, reader: Reader): Phrase => {
  const words = inLanguage(WORDS, reader);
  const name = namesFor(reader).work[work.kind];
  const over = nowMs > work.untilMs;
  const length = durationWords(Math.abs(work.untilMs - nowMs), reader);
  return { long: filled(over ? words.overdue : words.left, { work: name, length }), short: name };
};

/** Several tanks with one fault: `all four fresher than target`, short `all four fresher`. */
export const togetherPhrase = (
  quantity: Quantity,
  side: 'low' | 'high',
  { count, total }: { readonly count: number; readonly total: number },
  reader: Reader,
): Phrase => {
  const words = inLanguage(WORDS, reader);
  const blanks = {
    direction: (words.than[quantity] ?? words.other)[side],
    count: countWords(count, reader),
    total: countWords(total, reader),
  };
  const [long, short] = count === total ? [words.all, words.allShort] : [words.some, words.someShort];
  return { long: filled(long, blanks), short: filled(short, blanks) };
};

/** What the channel wants: `target 18.3 to 23.9 °C`, else its limit, else "not watched". */
export const wantsPhrase = (
  { quantity, wants }: Pick<ChannelPicture, 'quantity' | 'wants'>,
  reader: Reader,
): string => {
  const words = inLanguage(WORDS, reader);
  const target = spanWords(quantity, wants?.targetLow, wants?.targetHigh, reader);
  if (target !== undefined) return filled(words.target, { span: target });
  const limit = spanWords(quantity, wants?.limitLow, wants?.limitHigh, reader);
  return limit === undefined ? words.unwatched : filled(words.limit, { span: limit });
};

/** The state of a channel in a word or two: `outside target`. */
export const stateWords = (state: ChannelPicture['state'], reader: Reader): string =>
  inLanguage(WORDS, reader).states[state];

/** For a voice, without the value, so that the name changes only with the state: `temperature outside limit`. */
export const channelStateSpoken = (channel: ChannelPicture, reader: Reader): string =>
  `${namesFor(reader).quantity[channel.quantity]} ${stateWords(channel.state, reader)}`;

/** For a voice: `L2 temperature 29.9 degrees Celsius, outside limit`. */
export const channelSpoken = (place: string, channel: ChannelPicture, reader: Reader): string => {
  const value = channel.value === undefined ? '' : ` ${spokenWords(channel.quantity, channel.value, reader)}`;
  return `${place} ${namesFor(reader).quantity[channel.quantity]}${value}, ${stateWords(channel.state, reader)}`;
};
