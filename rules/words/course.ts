import type { Quantity } from '../quantity.js';
import type { Leg } from '../stage/course.js';
import { clockWords, dateWords } from './clock.js';
import { type ByLanguage, inLanguage, type Reader } from './language.js';
import { differenceWords, lineWords, rateWords, unitWords } from './number.js';

const DAY_MS = 86_400_000;

type Words = {
  readonly on: string;
  readonly aDay: string;
  readonly stays: string;
  readonly tooFast: (most: string) => string;
  readonly outside: (target: string) => string;
};

const WORDS: ByLanguage<Words> = {
  en: {
    on: 'on',
    aDay: 'a day',
    stays: 'stays',
    tooFast: (most) => `That is faster than these animals stand: at most ${most} in this stage.`,
    outside: (target) => `${target} lies outside of the limits above: the alarm will sound on the way there.`,
  },
};

/** A day and a time, as a picker says them: `Mon 4 May, 9:00`. */
export const dayAndClockWords = (atMs: number, reader: Reader): string =>
  `${dateWords(atMs, reader)}, ${clockWords(atMs, reader)}`;

/** What a leg of a schedule comes to: `18 °C on Mon 4 May, 9:00 → 24 °C on Sun 10 May, 9:00: 1.0 °C a day`. */
export const legWords = (quantity: Quantity, { from, to, perHour }: Leg, reader: Reader): string => {
  const { on, aDay, stays } = inLanguage(WORDS, reader);
  const [start, end] = [from, to].map(
    ({ atMs, target }) => `${lineWords(quantity, target, reader)} ${on} ${dayAndClockWords(atMs, reader)}`,
  );
  const daily = `${differenceWords(quantity, Math.abs(perHour) * 24, reader)} ${unitWords(quantity, reader)} ${aDay}`;
  const slow = to.atMs - from.atMs >= DAY_MS ? daily : rateWords(quantity, perHour, reader);
  return `${start} → ${end}: ${perHour === 0 ? stays : slow}`;
};

/** A leg that is steeper than the stage stands; `mostPerHour` in the canonical unit. */
export const tooFastSentence = (quantity: Quantity, mostPerHour: number, reader: Reader): string =>
  inLanguage(WORDS, reader).tooFast(rateWords(quantity, mostPerHour, reader));

/** A target that the limits do not let through. */
export const outsideSentence = (quantity: Quantity, target: number, reader: Reader): string =>
  inLanguage(WORDS, reader).outside(lineWords(quantity, target, reader));
