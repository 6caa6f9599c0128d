import { signal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import type { RetiredPlace } from '../../rules/wire/api.js';
import { dateWords } from '../../rules/words/clock.js';
import type { Reader } from '../../rules/words/language.js';
import { useApi } from './gateway.js';

/** Places that were taken out of use, the last one first; none until a page that looks back has asked. */
export const retired = signal<readonly RetiredPlace[]>([]);

/** Asked by the pages that look back: a tank of last spring may be gone by now. */
export const useRetired = (): readonly RetiredPlace[] => {
  const api = useApi();
  useEffect(() => {
    void api.retiredPlaces().then((asked) => {
      if (asked.ok) retired.value = asked.value;
    });
  }, []);
  return retired.value;
};

/** `N4, taken out 3 May` */
export const retiredWords = ({ name, retiredMs }: RetiredPlace, reader: Reader): string =>
  `${name}, taken out ${dateWords(retiredMs, reader)}`;
