import type { Tally } from '../log/tally.js';
import { fixedWords, groupedWords, type Marked } from './figure.js';
import { type ByLanguage, inLanguage, type Reader } from './language.js';

type Spoken = Pick<Reader, 'temperatureUnit' | 'decimalMark' | 'language'>;
const WORDS: ByLanguage<{ readonly million: string; readonly to: string }> = { en: { million: 'million', to: 'to' } };

const MILLION = 1_000_000;

/** `1.20` of a million; more digits only while they say something. */
const millions = (animals: number, reader: Marked): string => {
  const size = animals / MILLION;
  return fixedWords(size, size >= 100 ? 0 : size >= 10 ? 1 : 2, reader);
};

/** A number of animals as the trade says it: `40`, `226,735`, `1.20 million`. */
export const animalsWords = (animals: number, reader: Spoken): string =>
  animals >= MILLION
    ? `${millions(animals, reader)} ${inLanguage(WORDS, reader).million}`
    : groupedWords(Math.round(animals), reader);

/** With its interval, wherever it has one: `1.20 million (0.99 to 1.42)`, `950 (900 to 1,010)`. */
export const tallyWords = ({ animals, low, high }: Tally, reader: Spoken): string => {
  const { to } = inLanguage(WORDS, reader);
  const said = animalsWords(animals, reader);
  if (low === animals && high === animals) return said;
  const short = (end: number): string =>
    animals >= MILLION ? millions(end, reader) : groupedWords(Math.round(end), reader);
  return `${said} (${short(low)} ${to} ${short(high)})`;
};
