import type { ForecastRecord } from '../conditions/forecast.js';
import { type ByLanguage, filled, inLanguage, type Language } from './language.js';

type Table = {
  readonly none: string;
  readonly one: string;
  readonly many: string;
  readonly inside: string;
  readonly notReached: string;
  readonly noneReached: string;
};

const WORDS: ByLanguage<Table> = {
  en: {
    none: 'No forecast has come to its time yet.',
    one: 'The last forecast that came true was off by {minutes} min.',
    many: 'The last {reached} forecasts that came true were off by {minutes} min at the median.',
    inside: '{hits} came inside the times given.',
    notReached: '{count} more did not come: somebody acted, or the forecast was wrong.',
    noneReached: 'What the last {count} forecasts told did not come: somebody acted, or they were wrong.',
  },
};

/** How good the last forecasts were, in a sentence or three. Errors are minutes, early and late alike. */
export const forecastRecordWords = (
  { reached, hits, notReached, medianErrorMin }: ForecastRecord,
  reader: { readonly language?: Language } = {},
): string => {
  const words = inLanguage(WORDS, reader);
  if (reached + notReached === 0) return words.none;
  if (reached === 0) return filled(words.noneReached, { count: String(notReached) });
  const minutes = String(Math.round(medianErrorMin ?? 0));
  const came = filled(reached === 1 ? words.one : words.many, { reached: String(reached), minutes });
  const inside = reached > 1 ? [filled(words.inside, { hits: String(hits) })] : [];
  return [came, ...inside, ...(notReached === 0 ? [] : [filled(words.notReached, { count: String(notReached) })])].join(
    ' ',
  );
};
