import type { Refusal } from '../answer.js';
import { ARGUMENT_NAMES } from './argument.js';
import { HUSBANDRY_REFUSALS } from './refusal-husbandry.js';
import { WATER_REFUSALS } from './refusal-water.js';

/** One sentence for each code of `impossible`; `{name}` stands for a parameter of the refusal. */
const SENTENCES: Readonly<Record<string, string>> = {
  'conductivity-near-zero':
    'The conductivity is next to nothing ({conductivityMsCm} mS/cm): the probe is dry, or in pure water.',
  'too-near-25-c':
    'At {temperatureC} °C the compensation of the probe cannot be found: use water at least 5 °C away from 25 °C.',
};

/** The sentences that read their parameters themselves. */
const SPOKEN = { ...WATER_REFUSALS, ...HUSBANDRY_REFUSALS };

/** The reason that there is no answer, as an English sentence. */
export const refusalSentence = (refusal: Refusal): string => {
  switch (refusal.code) {
    case 'not-finite':
      return `The ${nameOf(refusal.what)} is missing or is not a number.`;
    case 'out-of-range':
      return outOfRange(refusal.what, refusal.value, refusal.low, refusal.high);
    case 'impossible':
      return impossibleSentence(refusal.because, refusal.with ?? {});
  }
};

/** Whether a code of `impossible` has its sentence; the tests ask it for every code in rules/. */
export const hasSentence = (because: string): boolean =>
  Object.hasOwn(SENTENCES, because) || Object.hasOwn(SPOKEN, because);

const impossibleSentence = (because: string, parameters: Readonly<Record<string, number | string>>): string =>
  SPOKEN[because]?.(parameters) ?? filled(SENTENCES[because] ?? `There is no answer: ${because}.`, parameters);

const outOfRange = (what: string, value: number, low: number, high: number): string => {
  const unit = ARGUMENT_NAMES[what]?.[1] ?? '';
  const has = (number: number): string => `${shown(number)}${unit === '' ? '' : ` ${unit}`}`;
  return `The ${nameOf(what)} is ${has(value)}; there is an answer only from ${shown(low)} to ${has(high)}.`;
};

const nameOf = (what: string): string => ARGUMENT_NAMES[what]?.[0] ?? what;

const shown = (value: number): string => String(Number(value.toPrecision(6)));

const filled = (sentence: string, parameters: Readonly<Record<string, number | string>>): string =>
  sentence.replace(/\{(\w+)\}/g, (blank, name: string) => {
    const value = parameters[name];
    if (value === undefined) return blank;
    return typeof value === 'number' ? shown(value) : value;
  });
