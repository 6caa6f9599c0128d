import type { Malformed, MalformedCode, OddityCode } from '../../rules/wire/malformed.js';
import type { Delivery } from './delivery.js';

/** What one message says, before anybody has named its sources. */
export type Decoded =
  | { readonly kind: 'readings'; readonly items: readonly Item[]; readonly oddities: readonly Oddity[] }
  | { readonly kind: 'status'; readonly board: string; readonly online: boolean }
  /** An empty message only clears what the broker kept: it is not a zero. */
  | { readonly kind: 'empty' }
  | ({ readonly kind: 'malformed' } & Malformed);

/** One value of one source. `key` names the source: topic, `#` and JSON Pointer or SenML name, `@` and stated unit. */
export type Item = {
  readonly key: string;
  readonly topic: string;
  readonly pointer?: string;
  readonly board?: string;
  readonly statedUnit?: string;
  readonly raw: number;
  readonly time?: DeviceTime;
  /** The board's promise of the longest time to the next reading (SenML `ut`). */
  readonly nextWithinMs?: number;
};

/**
 * When the board says that it measured. `stamped` is the board's own clock and the same in every redelivery; `aged` is
 * "so long before this message" and therefore moves with the arrival. No time at all: the arrival is used.
 */
export type DeviceTime = {
  readonly kind: 'stamped' | 'aged';
  readonly deviceMs: number;
  /** 1000 where whole seconds were sent: two readings of one second then share their stamp. */
  readonly resolutionMs: 1 | 1000;
};

export type Oddity = Malformed<OddityCode> & { readonly count: number };

export type Limits = {
  readonly bytes: number;
  readonly depth: number;
  readonly records: number;
};

export const LIMITS: Limits = { bytes: 64 * 1024, depth: 4, records: 1000 };

/** What a form is read from. */
export type Parcel = Pick<Delivery, 'topic' | 'arrivalMs'> & { readonly board?: string; readonly limits: Limits };

/** Counts what was odd, one entry a code, with the parameters of the first. */
export type OddityTally = {
  readonly add: (code: OddityCode, parameters: Malformed['parameters']) => void;
  readonly all: () => readonly Oddity[];
};

export const tallyOddities = (): OddityTally => {
  const counted = new Map<OddityCode, Oddity>();
  return {
    add: (code, parameters) => {
      const before = counted.get(code);
      counted.set(code, before === undefined ? { code, parameters, count: 1 } : { ...before, count: before.count + 1 });
    },
    all: () => [...counted.values()],
  };
};

export const refused = (
  code: MalformedCode,
  parameters: Malformed['parameters'] = {},
): { readonly kind: 'malformed' } & Malformed => ({ kind: 'malformed', code, parameters });

const EXCERPT_CHARACTERS = 40;

/** The beginning of a text as it can stand in a sentence: on one line, without control characters. */
export const excerpt = (text: string): string => {
  const start = text.slice(0, EXCERPT_CHARACTERS).replace(/\p{Cc}/gu, '\u{FFFD}');
  return text.length > EXCERPT_CHARACTERS ? `${start}…` : start;
};
