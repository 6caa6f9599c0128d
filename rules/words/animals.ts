import type { Tally } from '../log/tally.js';
import { type ByLanguage, inLanguage, type Language } from './language.js';

type Spoken = { readonly language?: Language };
const WORDS: ByLanguage<{ readonly million: string; readonly to: string }> = { en: { million: 'million', to: 'to' } };

const MILLION = 1_000_000;

/** Groups of three, a comma between: `226,735`. */
const grouped = (whole: number): string => String(whole).replace(/\B(?=(\d{3})+(?!\d))/g, ',');

/** `1.20` of a million; more digits only while they say something. */
const millions = (animals: number): string => {
  const size = animals / MILLION;
  return size >= 100 ? size.toFixed(0) : size >= 10 ? size.toFixed(1) : size.toFixed(2);
};

/** A number of animals as the trade says it: `40`, `226,735`, `1.20 million`. */
export const animalsWords = (animals: number, reader: Spoken = {}): string =>
  animals >= MILLION ? `${millions(animals)} ${inLanguage(WORDS, reader).million}` : grouped(Math.round(animals));

/** With its interval, wherever it has one: `1.20 million (0.99 to 1.42)`, `950 (900 to 1,010)`. */
export const tallyWords = ({ animals, low, high }: Tally, reader: Spoken = {}): string => {
  const { to } = inLanguage(WORDS, reader);
  const said = animalsWords(animals, reader);
  if (low === animals && high === animals) return said;
  const short = animals >= MILLION ? millions : (end: number) => grouped(Math.round(end));
  return `${said} (${short(low)} ${to} ${short(high)})`;
};
