import { uniformAt } from './random.js';
import { rounded } from './resolution.js';

/** What can be wrong with one probe, as its board sees it. */
export type ProbeFault =
  /** The last value, for ever. */
  | { readonly kind: 'stuck' }
  /** A railed input: one value that need not have been read before. */
  | { readonly kind: 'flat'; readonly value: number }
  /** Now and then one reading far off. */
  | { readonly kind: 'spike'; readonly height: number; readonly share: number }
  | { readonly kind: 'silent' }
  /** This share of the readings never comes. */
  | { readonly kind: 'drop-out'; readonly share: number }
  /** What a driver returns when the sensor does not answer: 85 and -127 (one-wire thermometers), 0, 65535. */
  | { readonly kind: 'fault-value'; readonly value: number }
  /** Fouling: the reading walks away. */
  | { readonly kind: 'creep'; readonly perH: number }
  /** A bubble in the cell, a knock: the reading is off by so much. */
  | { readonly kind: 'step'; readonly by: number }
  /** Text that is no number. */
  | { readonly kind: 'garbled'; readonly text: string };

/** What can be wrong with a board. */
export type BoardFault =
  /** No link. A board that buffers sends everything in one burst when the link is back; else it is lost. */
  | { readonly kind: 'offline'; readonly buffers: boolean }
  /** Starts anew: says nothing for so long, then counts from 1970 until the end of the event, when it learns the time. */
  | { readonly kind: 'reboot'; readonly silentS: number }
  | { readonly kind: 'wrong-clock'; readonly byMs: number }
  /** This share of the messages is sent twice. */
  | { readonly kind: 'duplicates'; readonly share: number };

export type FaultMoment = {
  /** When the fault began. */
  readonly sinceMs: number;
  readonly atMs: number;
  /** What this probe sent last, before the fault or in it. */
  readonly sent: number | undefined;
  readonly resolution: number;
  readonly seed: number;
};

/** What is sent instead of `value`: a number, a text that is none, or nothing at all. */
export const faultedValue = (value: number, fault: ProbeFault, moment: FaultMoment): number | string | undefined => {
  switch (fault.kind) {
    case 'stuck':
      return moment.sent ?? value;
    case 'flat':
    case 'fault-value':
      return fault.value;
    case 'spike':
      return happens(fault.share, moment) ? rounded(value + fault.height, moment.resolution) : value;
    case 'silent':
      return undefined;
    case 'drop-out':
      return happens(fault.share, moment) ? undefined : value;
    case 'creep':
      return rounded(value + (fault.perH * (moment.atMs - moment.sinceMs)) / 3_600_000, moment.resolution);
    case 'step':
      return rounded(value + fault.by, moment.resolution);
    case 'garbled':
      return fault.text;
  }
};

const happens = (share: number, { seed, atMs }: FaultMoment): boolean => uniformAt(seed ^ 0x5bd1e995, atMs) < share;
