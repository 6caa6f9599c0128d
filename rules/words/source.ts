import { type ByLanguage, inLanguage, type Reader } from './language.js';

const BESIDE: ByLanguage<(speaking: string | undefined) => string> = {
  en: (speaking) =>
    speaking === undefined
      ? 'A second probe of its channel, whose first is not named any more: name this one again to let it speak.'
      : `A second probe beside ${speaking}, which speaks for the channel: this one is compared with it.`,
};

/** What a source is that is named for a channel and does not speak for it; `speaking` is the key of the one that does. */
export const companionSentence = (speaking: string | undefined, reader: Pick<Reader, 'language'>): string =>
  inLanguage(BESIDE, reader)(speaking);
