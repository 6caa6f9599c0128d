import { computed, type ReadonlySignal } from '@preact/signals';
import { useMemo, useRef } from 'preact/hooks';

/** Whether two plain values (numbers, texts, lists, records) say the same. */
export const saysTheSame = (a: unknown, b: unknown): boolean => {
  if (Object.is(a, b)) return true;
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return false;
  if (Array.isArray(a) !== Array.isArray(b)) return false;
  const [left, right] = [Object.entries(a), Object.entries(b)];
  if (left.length !== right.length) return false;
  return left.every(([key, value]) => key in b && saysTheSame(value, (b as Record<string, unknown>)[key]));
};

/** A computed value that stays the very same object while it says the same: what hangs on it is not drawn again. */
export const steady = <T>(make: () => T): ReadonlySignal<T> => {
  let kept: { readonly value: T } | undefined;
  return computed(() => {
    const value = make();
    if (kept === undefined || !saysTheSame(kept.value, value)) kept = { value };
    return kept.value;
  });
};

/**
 * What a component shows, made from signals: it is drawn again only when that changes. `inputs` are the props it is made
 * from, because a signal does not know of them.
 */
export const useSteady = <T>(make: () => T, inputs: readonly unknown[]): T => {
  const latest = useRef(make);
  latest.current = make;
  return useMemo(() => steady(() => latest.current()), inputs).value;
};
