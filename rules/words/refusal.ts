import type { Refusal } from '../answer.js';
import { argumentName, argumentUnit } from './argument.js';
import { CANONICAL, type FigureReader, figureWords, shownFigure } from './degrees.js';
import { plainWords } from './figure.js';
import { HUSBANDRY_DIGITS, HUSBANDRY_REFUSALS } from './refusal-husbandry.js';
import { WATER_DIGITS, WATER_REFUSALS } from './refusal-water.js';

type Parameters = Readonly<Record<string, number | string>>;

/** One sentence for each code of `impossible`; `{name}` stands for a parameter of the refusal. */
const SENTENCES: Readonly<Record<string, string>> = {
  'conductivity-near-zero':
    'The conductivity is next to nothing ({conductivityMsCm} mS/cm): the probe is dry, or in pure water.',
  'too-near-25-c':
    'At {temperatureC} the compensation of the probe cannot be found: use water at least {apartC} away from {referenceC}.',
};
/** Of the probe's reference, 25 °C, and of how far from it a slope can be read. */
const REFERENCE: Parameters = { referenceC: 25, apartC: 5 };
const DIGITS = 6;

/** The reason that there is no answer, as an English sentence, in the degrees and with the decimal mark of the site. */
export const refusalSentence = (refusal: Refusal, reader: FigureReader = CANONICAL): string => {
  switch (refusal.code) {
    case 'not-finite':
      return `The ${argumentName(refusal.what)} is missing or is not a number.`;
    case 'out-of-range':
      return outOfRange(refusal, reader);
    case 'impossible':
      return impossibleSentence(refusal.because, refusal.with ?? {}, reader);
  }
};

/** Whether a code of `impossible` has its sentence; the tests ask it for every code in rules/. */
export const hasSentence = (because: string): boolean =>
  [SENTENCES, WATER_REFUSALS, HUSBANDRY_REFUSALS].some((table) => Object.hasOwn(table, because));

const impossibleSentence = (because: string, parameters: Parameters, reader: FigureReader): string => {
  const [water, husbandry] = [WATER_REFUSALS[because], HUSBANDRY_REFUSALS[because]];
  if (water !== undefined) return water(inWords(parameters, WATER_DIGITS, reader));
  if (husbandry !== undefined) return husbandry(inWords(parameters, HUSBANDRY_DIGITS, reader));
  const sentence = SENTENCES[because] ?? `There is no answer: ${because}.`;
  return filled(sentence, inWords({ ...REFERENCE, ...parameters }, DIGITS, reader));
};

const outOfRange = (
  { what, value, low, high }: Extract<Refusal, { code: 'out-of-range' }>,
  reader: FigureReader,
): string => {
  const figure = { key: what, unit: argumentUnit(what) };
  const from = plainWords(shownFigure(what, figure.unit, low, reader), DIGITS, reader);
  const [said, to] = [value, high].map((one) => figureWords(figure, one, DIGITS, reader));
  return `The ${argumentName(what)} is ${said ?? ''}; there is an answer only from ${from} to ${to ?? ''}.`;
};

/** Numbers as the site writes them, temperatures with their unit, arguments by their names. */
const inWords = (parameters: Parameters, digits: number, reader: FigureReader): Parameters =>
  Object.fromEntries(
    Object.entries(parameters).map(([key, value]) => {
      if (typeof value === 'string') return [key, key === 'what' ? argumentName(value) : value];
      const unit = key === 'apartC' ? 'K' : key.endsWith('C') ? '°C' : '';
      return [key, figureWords({ key, unit }, value, digits, reader)];
    }),
  );

const filled = (sentence: string, parameters: Parameters): string =>
  sentence.replace(/\{(\w+)\}/g, (blank, name: string) => String(parameters[name] ?? blank));
