import type { AlarmPicture } from '../alarm/alarm.js';
import type { Harm, Priority } from '../conditions/finding.js';
import type { Call, Ladder, Roster } from './ladder.js';
import type { Hour, Policies } from './policy.js';

/** One alarm of a fault, as far as calling people goes. */
export type Member = {
  readonly id: string;
  readonly priority: Priority;
  /** Asks for a person now. */
  readonly calling: boolean;
  /** Its condition is true, seen by somebody or not; true, and put aside; or over. */
  readonly is: 'open' | 'aside' | 'well';
};

/** Alarms with one cause, and the one ladder for them. Keeps its first alarm's id. */
export type AlertFault = {
  readonly id: string;
  /** Cause family and place of its first alarm: what comes back when no member is left is known by it. */
  readonly cause: string;
  readonly placeId: string;
  readonly members: readonly Member[];
  readonly ladder?: Ladder;
  /** How often a ladder was begun, so that no call of an earlier one is taken for the same. */
  readonly runs: number;
  /** The forecast that people were told; absent: none was. */
  readonly harm?: Harm;
  readonly activationsMs: readonly number[];
  readonly changedMs: number;
};

/** All faults that wait for somebody. Plain JSON. */
export type Alerting = {
  readonly faults: Readonly<Record<string, AlertFault>>;
  /** The latest moment that was heard of: a clock that is set back must not put off what is due. */
  readonly nowMs: number;
};

export const NO_FAULTS: Alerting = { faults: {}, nowMs: 0 };

/** What the ladders have to know of the site at a moment. */
export type AlertWorld = {
  readonly roster: Roster;
  readonly policies: Policies;
  readonly hourAt: (atMs: number) => Hour;
  /** Ids of all open alarms that have one cause with this one (rules/alarm/fault.ts). */
  readonly matesOf: (alarm: AlarmPicture) => readonly string[];
};

/** A call of a fault. `key` is the same whenever the same call is made: with person and way it names one message for ever. */
export type FaultCall = Call & { readonly faultId: string; readonly run: number; readonly key: string };

export type AlertsStepped = {
  readonly alerting: Alerting;
  readonly calls: readonly FaultCall[];
  /** Faults that changed, to be kept; not open: over and gone. */
  readonly changed: readonly { readonly fault: AlertFault; readonly open: boolean }[];
  /** Faults whose waiting calls are of no use any more: somebody answered, or the water is well. */
  readonly settled: readonly string[];
};

export const callKey = (faultId: string, run: number, label: string): string => `${faultId} ${run} ${label}`;
