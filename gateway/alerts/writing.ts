import type { Result } from '../../rules/result.js';
import type { Versioned } from '../../rules/wire/api.js';

/** Why what somebody set about waking was not taken. */
export type WakingFault =
  | { readonly code: 'version-changed'; readonly present: number }
  | { readonly code: 'no-such-person'; readonly id: string }
  | { readonly code: 'no-such-way'; readonly way: string };

export type Written<T> = Result<Versioned<T>, WakingFault>;
export type Writing = { readonly by: string; readonly expectedVersion: number };

/** One dated row, written by who saw the last version; and the last version, or what counts without one. */
export type Put = <T>(entity: string, id: string, body: T | null, writing: Writing) => Written<T>;
export type Latest = <T>(entity: string, id: string, otherwise: T) => Versioned<T>;
