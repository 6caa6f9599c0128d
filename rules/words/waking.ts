import type { Unreachable, Way } from '../alerts/person.js';
import { type ByLanguage, inLanguage, type Language } from './language.js';

type Table = {
  readonly ways: { readonly [way in Way]: string };
  readonly unreachable: { readonly [why in Unreachable]: string };
};

const WORDS: ByLanguage<Table> = {
  en: {
    ways: { push: 'Push', email: 'E-mail', text: 'Text message', ring: 'Ringing call', webhook: 'Webhook' },
    unreachable: {
      'no-way': 'there is no way to reach them',
      'no-way-wakes': 'nothing that was tried woke them',
      'never-tried': 'it was never tried',
      'drill-overdue': 'the last drill is more than a week ago',
    },
  },
};

type Spoken = { readonly language?: Language };
export const wayName = (way: Way, reader: Spoken = {}): string => inLanguage(WORDS, reader).ways[way];
export const unreachableWords = (why: Unreachable, reader: Spoken = {}): string =>
  inLanguage(WORDS, reader).unreachable[why];
