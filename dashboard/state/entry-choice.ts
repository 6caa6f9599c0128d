import { isQuantity } from '../../rules/quantity.js';
import { SPECIES_GROUPS } from '../../rules/stage/profiles.js';
import { isStage } from '../../rules/stage/stage.js';
import { entryNames } from '../../rules/words/entry-name.js';
import type { Reader } from '../../rules/words/language.js';
import { capital, namesFor } from '../../rules/words/name.js';
import { isWorkKind } from '../../rules/work.js';

const wordIn = (table: object, word: string): string | undefined => {
  const found: unknown = Object.entries(table).find(([key]) => key === word)?.[1];
  return typeof found === 'string' ? found : undefined;
};

/** What a choice of a field is called; a word that no table has is shown as it is. */
export const choiceWords = (field: string, word: string, reader: Reader): string => {
  const names = entryNames(reader);
  const tables: Readonly<Record<string, object>> = {
    what: names.cleaned,
    event: names.culture,
    seenIn: names.seenIn,
    sand: names.sand,
    smell: names.smell,
    siphons: names.siphons,
    swimming: names.swimming,
    gut: names.gut,
    end: names.end,
    sex: names.sex,
    why: names.runEnd,
    which: names.round,
    phase: names.phase,
  };
  if (field === 'stage' && isStage(word)) return namesFor(reader).stage[word];
  if (field === 'quantity' && isQuantity(word)) return namesFor(reader).quantity[word];
  if (field === 'work' && isWorkKind(word)) return capital(namesFor(reader).work[word]);
  if (field === 'speciesGroup') return SPECIES_GROUPS.find(({ id }) => id === word)?.name ?? word;
  const table = tables[field];
  return (table === undefined ? undefined : wordIn(table, word)) ?? word;
};
