import type { Lack } from '../alerts/lack.js';
import { durationWords, momentWords } from './clock.js';
import { deliveryWords } from './delivery.js';
import { type ByLanguage, filled, inLanguage, type Reader } from './language.js';
import { unreachableWords, wayName } from './waking.js';

const WORDS: ByLanguage<{ readonly [kind in Lack['kind']]: string }> = {
  en: {
    'nobody-on-call': 'Nobody is on call from {from} to {to}',
    'no-people': 'Nobody is on the list of people to be woken',
    unreachable: '{name} cannot be counted on: {why}',
    'drill-unanswered': '{name} cannot be reached by {ways}: the test call of {from} was not answered for',
    'no-phone': '{name} cannot be reached by push: no phone is subscribed',
    'way-not-set-up': '{way} is not set up, and {names} would be called by it',
    'way-fails': '{way} fails since {from}: {why}',
    'check-in-fails':
      'The check-in outside fails since {from}, {length}: nobody there would notice if this site went dark',
    'history-away':
      'The history database has taken no readings since {from}, {length}: they wait on this machine’s disk alone',
    'no-answer-outside': 'No way to acknowledge from outside: this gateway has no https address that a phone can reach',
  },
};

/** One line of "not watched". */
export const lackWords = (lack: Lack, nowMs: number, reader: Reader): string => {
  const sentence = inLanguage(WORDS, reader)[lack.kind];
  const moment = (atMs: number): string => momentWords(atMs, nowMs, reader);
  switch (lack.kind) {
    case 'nobody-on-call':
      return filled(sentence, { from: moment(lack.fromMs), to: moment(lack.toMs) });
    case 'unreachable':
      return filled(sentence, { name: lack.name, why: unreachableWords(lack.why, reader) });
    case 'drill-unanswered': {
      const ways = lack.ways.map((way) => wayName(way, reader).toLowerCase()).join(', ');
      return filled(sentence, { name: lack.name, ways, from: moment(lack.sinceMs) });
    }
    case 'no-phone':
      return filled(sentence, { name: lack.name });
    case 'way-not-set-up':
      return filled(sentence, { way: wayName(lack.way, reader), names: lack.names.join(', ') });
    case 'way-fails': {
      const why = deliveryWords(lack.code, reader);
      return filled(sentence, { way: wayName(lack.way, reader), from: moment(lack.sinceMs), why: lowered(why) });
    }
    case 'check-in-fails':
    case 'history-away':
      return filled(sentence, { from: moment(lack.sinceMs), length: durationWords(nowMs - lack.sinceMs, reader) });
    default:
      return sentence;
  }
};

const lowered = (sentence: string): string => sentence.charAt(0).toLowerCase() + sentence.slice(1);
