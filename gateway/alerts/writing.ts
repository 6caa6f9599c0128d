import { fault, type Result } from '../../rules/result.js';
import type { Versioned } from '../../rules/wire/api.js';

/** Why what somebody set about waking was not taken. */
export type WakingFault =
  | { readonly code: 'version-changed'; readonly present: number }
  | { readonly code: 'no-such-person'; readonly id: string }
  /** What a schema cannot see; `first` is a sentence. */
  | { readonly code: 'request-not-understood'; readonly first: string }
  | { readonly code: 'no-such-way'; readonly way: string };

export type Written<T> = Result<Versioned<T>, WakingFault>;
export type Writing = { readonly by: string; readonly expectedVersion: number };

/** One dated row, written by who saw the last version; and the last version, or what counts without one. */
export type Put = <T>(entity: string, id: string, body: T | null, writing: Writing) => Written<T>;
export type Latest = <T>(entity: string, id: string, otherwise: T) => Versioned<T>;

/** The first of what does not fit, as the refusal of a writing; undefined when all does. */
export const unfit = (faults: readonly string[]): Result<never, WakingFault> | undefined => {
  const [first] = faults;
  return first === undefined ? undefined : fault({ code: 'request-not-understood', first });
};
