import { type Signal, signal } from '@preact/signals';
import { useEffect, useMemo } from 'preact/hooks';
import type { Problem } from '../../rules/wire/api.js';
import type { Asked } from '../link/api.js';

/** What a page asked the gateway for. */
export type Answer<T> =
  | { readonly kind: 'waiting' }
  | { readonly kind: 'here'; readonly value: T }
  | { readonly kind: 'refused'; readonly problem: Problem };

/** Asks when the page opens, when `key` changes, and again on `again()`; an answer that comes too late is dropped. */
export const useAsked = <T>(ask: () => Promise<Asked<T>>, key: string) => {
  const answer: Signal<Answer<T>> = useMemo(() => signal<Answer<T>>({ kind: 'waiting' }), []);
  const turn = useMemo(() => ({ now: 0 }), []);
  const again = (): void => {
    turn.now += 1;
    const mine = turn.now;
    void ask().then((asked) => {
      if (mine !== turn.now) return;
      answer.value = asked.ok ? { kind: 'here', value: asked.value } : { kind: 'refused', problem: asked.fault };
    });
  };
  useEffect(() => {
    again();
    return () => {
      turn.now += 1;
    };
  }, [key]);
  return { answer, again };
};
