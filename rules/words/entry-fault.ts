import type { FieldFault } from '../log/field.js';
import { animalsWords } from './animals.js';
import { CANONICAL, type FigureReader, figureWords } from './degrees.js';
import { fieldLabel } from './entry-field.js';
import { fixedWords, groupedWords } from './figure.js';
import { hasSentence, refusalSentence } from './refusal.js';

type Parameters = Readonly<Record<string, number | string>>;
/** As many digits as anybody types. */
const DIGITS = 12;
/** From here on thousands are parted. */
const MANY = 10_000;
const said = (value: number | string | undefined): string => String(value ?? '?');

/** What is wrong with one field, and how to mend it: said after the name of the field. */
const OF_FIELD: Readonly<Record<string, (p: Parameters, reader: FigureReader) => string>> = {
  missing: () => 'this is missing; fill it in.',
  'not-a-number': (_p, reader) => `this is not a number; write digits only, as in ${fixedWords(12.5, 1, reader)}.`,
  'out-of-range': (p, reader) =>
    p.unit === 'ms'
      ? 'this is no time that can be; look at the day and the hour.'
      : `${figure(p.value, '', reader, p)} is outside of what can be; give ${figure(p.low, '', reader, p)} to ${figure(p.high, p.unit, reader, p)}.`,
  'not-whole': (p, reader) => `${figure(p.value, '', reader, p)} has to be a whole number.`,
  'not-a-text': () => 'this has to be written in words.',
  'too-long': (p) => `this has ${said(p.length)} characters; at most ${said(p.most)} are kept.`,
  'not-so-written': (p) => `“${said(p.words)}” cannot be written so: letters, digits and dashes, without blanks.`,
  'not-a-choice': (p) => `choose one of these: ${said(p.words)}.`,
  'not-yes-or-no': () => 'this is answered with yes or no.',
  'not-a-list': () => 'this has to be a list.',
  'too-few': (p) => `at least ${said(p.least)} of these are needed; ${said(p.given)} came.`,
  'too-many': (p) => `at most ${said(p.most)} of these are taken; ${said(p.given)} came.`,
  'not-a-group': () => 'this has to be an object with named fields.',
  'not-known-here': (p) => `“${said(p.name)}” is not known here: take it away.`,
  'in-the-future': () => 'this lies in the future: look at the time, and at the clock of the phone.',
};

/** The number of a fault as it would be typed; `unit` decides whether it is a temperature. */
const figure = (
  value: number | string | undefined,
  shownUnit: number | string | undefined,
  reader: FigureReader,
  { unit }: Parameters,
): string => {
  if (typeof value !== 'number') return said(value);
  const [counted, shown] = [unit === 'animals' || unit === 'counted', said(shownUnit)];
  if (counted || (Number.isInteger(value) && Math.abs(value) >= MANY))
    return `${groupedWords(value, reader)} ${counted ? '' : shown}`.trim();
  const words = figureWords({ key: unit === '1' ? 'salinity' : '', unit: said(unit) }, value, DIGITS, reader);
  return shown === '' ? (words.split(' ')[0] ?? words) : words;
};

/** What is wrong with an entry as a whole and how to mend it; one sentence a code. */
const SENTENCES: Readonly<Record<string, (p: Parameters, reader: FigureReader) => string>> = {
  'not-a-kind': () => 'This kind of entry is not known.',
  'no-such-place': (p) => `There is no place “${said(p.place)}”.`,
  'no-tank': (p) => `${said(p.place)} is not a tank: animals cannot be put there.`,
  'nothing-there': (p) => `The log knows of no animals in ${said(p.place)}: write first what was put there.`,
  'batch-not-there': (p) => `Batch ${said(p.batch)} is not in this tank.`,
  'batch-exists': (p) => `There is a batch ${said(p.batch)} already: give this one another name.`,
  'more-than-there-are': (p, reader) =>
    `${many(p.animals, reader)} are more than can be there (at most ${many(p.high, reader)}): count again, or write the count first.`,
  'disinfectant-inside': (p) =>
    `${said(p.product)} is still inside ${said(p.place)}: no animals before a residual test is logged and clear.`,
  'same-place': () => 'That is the tank they are in.',
  'named-twice': () => 'This tank is named twice.',
  'other-batch-there': (p) =>
    `Batch ${said(p.batch)} is in that tank: choose “pooled” and name the mixed batch, or another tank.`,
  'count-not-understood': () => 'These counts cannot be worked out: look at the numbers and volumes.',
  'ends-before-it-begins': () => 'The latest end lies before the start.',
  'never-declared': () => 'Nothing of that name was ever declared.',
  'ended-already': () => 'That has ended already.',
  'corrected-meanwhile': () =>
    'Somebody corrected this entry in the meantime: look at it as it is now, then correct that one.',
  'no-such-entry': () => 'There is no such entry to correct.',
  'no-bed': (p) => `${said(p.place)} has no bed of sand or aragonite: choose a tank that has one.`,
  'nothing-seen': () => 'Write down at least one thing that was seen: the layer, the sand, the smell or the siphons.',
  'seen-in-what': () => 'Say how the layer was seen: in a core, or as the black edge behind the glass.',
  'bed-clear-throughout': (p) =>
    `The bed is only ${said(p.bedMm)} mm deep. If it was light down to the bottom, leave the layer empty and choose “light”.`,
  'photo-missing': () => 'A photo of this entry has not arrived: send it again.',
};

const many = (value: number | string | undefined, reader: FigureReader): string =>
  typeof value === 'number' ? animalsWords(value, reader) : said(value);

/** `Counted in the subsamples` of `/fields/count/counts/0`: the word over the line in the form. */
const labelAt = (pointer: string): string | undefined => {
  const name = pointer.split('/').findLast((part) => part !== '' && !/^\d+$/.test(part));
  return name === undefined ? undefined : fieldLabel(name);
};

/** What is wrong and how to mend it, with the field as the form calls it, in the degrees and numbers of the site. */
export const entryFaultSentence = (
  { pointer, code, with: parameters = {} }: FieldFault,
  reader: FigureReader = CANONICAL,
): string => {
  const ofField = OF_FIELD[code]?.(parameters, reader);
  if (ofField !== undefined) return `${labelAt(pointer) ?? 'The entry'}: ${ofField}`;
  return (
    SENTENCES[code]?.(parameters, reader) ??
    (hasSentence(code)
      ? refusalSentence({ code: 'impossible', because: code, with: parameters }, reader)
      : 'This cannot be taken as it is.')
  );
};

/** Whether a code has its own sentence; the tests ask it for every code in rules/log. */
export const hasEntrySentence = (code: string): boolean =>
  Object.hasOwn(SENTENCES, code) || Object.hasOwn(OF_FIELD, code) || hasSentence(code);
