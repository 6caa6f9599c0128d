import type { Reader } from './language.js';

/** What of a reader decides how a number is written. */
export type Marked = Pick<Reader, 'decimalMark'>;

const isComma = (reader: Marked): boolean => reader.decimalMark === 'comma';

/** Digits as a program writes them, with the mark that the site's people read. */
const marked = (digits: string, reader: Marked): string => (isComma(reader) ? digits.replace('.', ',') : digits);

/** Fixed decimals, and never `-0.0`: `29.9`, or `29,9`. */
export const fixedWords = (value: number, decimals: number, reader: Marked): string => {
  const text = value.toFixed(decimals);
  return marked(Number(text) === 0 ? (0).toFixed(decimals) : text, reader);
};

/** So many digits that mean anything, none that say nothing: `6.387`, `0.5`, `12000`. */
export const plainWords = (value: number, digits: number, reader: Marked): string =>
  marked(String(Number(value.toPrecision(digits))), reader);

/** At most so many decimals, none that say nothing: what a form starts with. */
export const typedWords = (value: number, decimals: number, reader: Marked): string =>
  marked(String(Number(value.toFixed(decimals))), reader);

/** One decimal below ten, none above: depths, hours, shares. */
export const roughWords = (value: number, reader: Marked): string => fixedWords(value, value < 10 ? 1 : 0, reader);

/** A whole number in groups of three: `226,735`; a blank that does not break where the comma is the decimal mark. */
export const groupedWords = (whole: number, reader: Marked): string =>
  String(whole).replace(/\B(?=(\d{3})+(?!\d))/g, isComma(reader) ? '\u202f' : ',');

/** `1,200` and, where the comma is the mark, `1.200`: groups of three there, decimals elsewhere. Nobody can tell which. */
const TWO_WAYS = { point: /^-?[1-9]\d{0,2}(,\d{3})+$/, comma: /^-?[1-9]\d{0,2}(\.\d{3})+$/ } as const;

/** What a person typed as a number; blanks part groups. Empty is undefined, what is no number, or could be two, is null. */
export const typedNumber = (text: string, reader: Marked): number | null | undefined => {
  const trimmed = text.trim().replace('−', '-');
  if (trimmed === '') return undefined;
  if (TWO_WAYS[reader.decimalMark ?? 'point'].test(trimmed)) return null;
  const plain = trimmed.replaceAll(/(?<=\d)[ \u00a0\u202f](?=\d{3}\b)/g, '').replace(',', '.');
  if (!/^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i.test(plain)) return null;
  const value = Number(plain);
  return Number.isFinite(value) ? value : null;
};

/** What is wrong with a text that is no number, and how to mend it. */
export const noNumberSentence = (text: string, reader: Marked): string =>
  TWO_WAYS[reader.decimalMark ?? 'point'].test(text.trim())
    ? `“${text.trim()}” can be read in two ways: write the thousands without a mark.`
    : `“${text.trim()}” is not a number: write digits only, as in ${fixedWords(12.5, 1, reader)}.`;
