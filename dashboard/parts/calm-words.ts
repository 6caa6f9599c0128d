import { countWords, workPhrase } from '../../rules/words/channel.js';
import { clockWords } from '../../rules/words/clock.js';
import type { Reader } from '../../rules/words/language.js';
import { capital } from '../../rules/words/name.js';
import { type Calm, calmOf } from '../state/calm.js';
import { useRoom } from '../state/room.js';
import { useSteady } from '../state/steady.js';

/** A room without an open alarm, in words. */
export type CalmWords = { readonly headline: string; readonly lines: readonly string[]; readonly next?: string };

const HEADLINES: { readonly [kind in Calm['kind']]: string } = {
  well: 'All is well',
  'no-alarm': 'No alarm',
  'nothing-watched': 'Nothing is watched',
  'no-tank': 'No tank is named yet',
};

export const calmWords = (calm: Calm, reader: Reader): CalmWords => {
  const { kind, tanks, watched, beyondLimit, offTarget, unknown, unwatched, next } = calm;
  const count = (number: number, one: string, many: string): string =>
    `${capital(countWords(number, reader))} ${number === 1 ? one : many}`;
  const lines = [
    ...(kind === 'no-tank' ? ['Point a board here, then name what it sends.'] : []),
    ...(kind === 'nothing-watched' ? ['Say what the tanks hold, or set limits.'] : []),
    ...(watched === 0
      ? []
      : [watched === tanks ? count(tanks, 'tank watched', 'tanks watched') : `${watched} of ${tanks} tanks watched`]),
    ...(beyondLimit === 0 ? [] : [count(beyondLimit, 'tank beyond a limit', 'tanks beyond a limit')]),
    ...(offTarget === 0 ? [] : [count(offTarget, 'tank off target', 'tanks off target')]),
    ...(unknown === 0 ? [] : [count(unknown, 'channel unknown', 'channels unknown')]),
    ...(unwatched === 0 || kind === 'no-tank' ? [] : [count(unwatched, 'channel not watched', 'channels not watched')]),
  ];
  if (next === undefined) return { headline: HEADLINES[kind], lines };
  const work = workPhrase(next.work, next.work.fromMs, reader).short;
  return {
    headline: HEADLINES[kind],
    lines,
    next: `${next.place.name} ${work} until ${clockWords(next.work.untilMs, reader)}`,
  };
};

export const useCalmWords = (): CalmWords => {
  const room = useRoom();
  return useSteady(() => {
    const picture = room.picture.value;
    if (picture === undefined) return { headline: '', lines: [] };
    return calmWords(calmOf(picture, room.strips.value), room.reader.value);
  }, [room]);
};
