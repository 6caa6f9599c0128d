import { clockWords, durationWords } from '../../rules/words/clock.js';
import type { Reader } from '../../rules/words/language.js';
import type { Aliveness } from '../state/aliveness.js';

/** `loud`: the whole screen must not be believed. */
export type AliveWords = {
  readonly loud: boolean;
  readonly headline: string;
  readonly rest: string;
  readonly foot?: string;
};

/** Whether the screen is alive, in words; short enough for the foot of the wall. */
export const aliveWords = (alive: Aliveness, nowMs: number, reader: Reader): AliveWords => {
  const since = (sinceMs: number): string =>
    `since ${clockWords(sinceMs, reader)}, ${durationWords(nowMs - sinceMs, reader)}`;
  switch (alive.kind) {
    case 'live':
      return { loud: false, headline: 'live', rest: `last reading ${durationWords(alive.agoMs, reader)} ago` };
    case 'no-reading':
      return { loud: false, headline: 'live', rest: 'no reading has arrived yet' };
    case 'waiting':
      return { loud: false, headline: 'Waiting for the gateway', rest: 'nothing is shown until it answers' };
    case 'quiet':
      return { foot: 'no readings', loud: true, headline: 'No readings arrive', rest: since(alive.sinceMs) };
    case 'broker-down':
      return {
        foot: 'not live',
        loud: true,
        headline: 'Readings cannot arrive: the broker is down',
        rest: since(alive.sinceMs),
      };
    case 'lost':
      return {
        foot: 'not live',
        loud: true,
        headline: 'Not live: the gateway does not answer',
        rest: since(alive.sinceMs),
      };
  }
};
