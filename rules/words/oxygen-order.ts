import type { OxygenPlace } from '../alerts/oxygen-order.js';
import { clockWords } from './clock.js';
import { type ByLanguage, filled, inLanguage, type Reader } from './language.js';
import { valueWords } from './number.js';

type Table = {
  readonly title: string;
  readonly already: string;
  readonly reaches: string;
  readonly mayReach: string;
  readonly never: string;
  readonly unknown: string;
  readonly oxygen: string;
  readonly measured: string;
  readonly budget: string;
};

const WORDS: ByLanguage<Table> = {
  en: {
    title: 'Without power: oxygen runs out in this order',
    already: '{place}: below its limit already',
    reaches: '{place}: between {from} and {until}',
    mayReach: '{place}: at {from} at the soonest',
    never: '{place}: not by what is known',
    unknown: '{place}: not known, look at it by hand',
    oxygen: '{value}',
    measured: 'as it falls now',
    budget: 'by what its animals use',
  },
};

const HOUR_MS = 3_600_000;

/** A tank's line of the list, the clock counted from `nowMs`: `L2: between 03:10 and 04:40 (6.2 mg/L, as it falls now)`. */
export const oxygenOrderLine = (
  { left, basis, oxygenMgL }: OxygenPlace,
  place: string,
  nowMs: number,
  reader: Reader,
): string => {
  const words = inLanguage(WORDS, reader);
  const clock = (hours: number): string => clockWords(nowMs + hours * HOUR_MS, reader);
  const main = (): string => {
    switch (left?.kind) {
      case undefined:
        return filled(words.unknown, { place });
      case 'already':
        return filled(words.already, { place });
      case 'reaches':
        return filled(words.reaches, { place, from: clock(left.hours.low), until: clock(left.hours.high) });
      case 'may-reach':
        return filled(words.mayReach, { place, from: clock(left.soonestHours) });
      case 'never':
        return filled(words.never, { place });
    }
  };
  const value = oxygenMgL === undefined ? [] : [valueWords('oxygen-mg-l', oxygenMgL, reader)];
  const beside = [...value, ...(basis === 'unknown' ? [] : [words[basis]])];
  return beside.length === 0 ? main() : `${main()} (${beside.join(', ')})`;
};

export const oxygenOrderTitle = (reader: Reader): string => inLanguage(WORDS, reader).title;
