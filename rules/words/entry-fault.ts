import type { FieldFault } from '../log/field.js';
import { animalsWords } from './animals.js';
import { hasSentence, refusalSentence } from './refusal.js';

type Parameters = Readonly<Record<string, number | string>>;
const said = (value: number | string | undefined): string => String(value ?? '?');
const many = (value: number | string | undefined): string =>
  typeof value === 'number' ? animalsWords(value) : said(value);

/** What is wrong with an entry and how to mend it; one sentence a code. */
const SENTENCES: Readonly<Record<string, (p: Parameters) => string>> = {
  missing: () => 'This is missing: fill it in.',
  'not-a-number': () => 'This is not a number.',
  'out-of-range': (p) =>
    `${said(p.value)} is outside of what can be: from ${said(p.low)} to ${said(p.high)} ${said(p.unit)}.`,
  'not-whole': (p) => `${said(p.value)} has to be a whole number.`,
  'not-a-text': () => 'This has to be written in words.',
  'too-long': (p) => `This has ${said(p.length)} characters; at most ${said(p.most)} are kept.`,
  'not-so-written': (p) => `“${said(p.words)}” cannot be written so: letters, digits and dashes, without blanks.`,
  'not-a-choice': (p) => `Choose one of these: ${said(p.words)}.`,
  'not-yes-or-no': () => 'This is answered with yes or no.',
  'not-a-list': () => 'This has to be a list.',
  'too-few': (p) => `At least ${said(p.least)} of these are needed; ${said(p.given)} came.`,
  'too-many': (p) => `At most ${said(p.most)} of these are taken; ${said(p.given)} came.`,
  'not-a-group': () => 'This has to be an object with named fields.',
  'not-known-here': (p) => `“${said(p.name)}” is not known here: take it away.`,
  'not-a-kind': () => 'This kind of entry is not known.',
  'in-the-future': () => 'This lies in the future: look at the time, and at the clock of the phone.',
  'no-such-place': (p) => `There is no place “${said(p.place)}”.`,
  'no-tank': (p) => `${said(p.place)} is not a tank: animals cannot be put there.`,
  'nothing-there': (p) => `The log knows of no animals in ${said(p.place)}: write first what was put there.`,
  'batch-not-there': (p) => `Batch ${said(p.batch)} is not in this tank.`,
  'batch-exists': (p) => `There is a batch ${said(p.batch)} already: give this one another name.`,
  'more-than-there-are': (p) =>
    `${many(p.animals)} are more than can be there (at most ${many(p.high)}): count again, or write the count first.`,
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

export const entryFaultSentence = ({ code, with: parameters = {} }: FieldFault): string =>
  SENTENCES[code]?.(parameters) ??
  (hasSentence(code)
    ? refusalSentence({ code: 'impossible', because: code, with: parameters })
    : 'This cannot be taken as it is.');

/** Whether a code has its own sentence; the tests ask it for every code in rules/log. */
export const hasEntrySentence = (code: string): boolean => Object.hasOwn(SENTENCES, code) || hasSentence(code);
