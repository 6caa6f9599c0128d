import type { Priority } from '../../rules/conditions/finding.js';
import type { Quantity } from '../../rules/quantity.js';
import type { Moment } from './course.js';

/** A time that a watch gave for the water to reach a line. */
export type Reaching = {
  readonly reachesMs: number;
  readonly tank: string;
  readonly quantity: Quantity;
  readonly side: 'low' | 'high';
  readonly value: number;
};

/** An alarm at the moment it sounds. */
export type Call = {
  readonly atMs: number;
  readonly alarmId: string;
  readonly code: string;
  readonly priority: Priority;
  /** Tank, line, air main or circuit, and others that the alarm names. */
  readonly places: readonly string[];
  /** Sounded before, and was not put right. */
  readonly isAgain: boolean;
  readonly forecast?: Reaching;
};

/** What the person tells the watch: a shelved alarm stays quiet until then; work that was left open is said to be done. */
export type Answer = { readonly atMs: number } & (
  | { readonly verb: 'ack'; readonly alarmId: string }
  | { readonly verb: 'shelve'; readonly alarmId: string; readonly untilMs: number }
  | { readonly verb: 'end-work'; readonly places: readonly string[] }
);

/** Something that hears readings and calls people: the engine, or plain fixed limits. */
export type Watch = {
  readonly hear: (moment: Moment) => readonly Call[];
  readonly answer: (answer: Answer) => void;
};
