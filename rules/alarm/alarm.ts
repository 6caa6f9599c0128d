import type { Finding, Priority } from '../conditions/finding.js';

/** ISA-18.2 / IEC 62682 states by name (letters differ between editions), with their latched forms. */
export const ALARM_STATES = ['normal', 'unack', 'ack', 'rtn-unack', 'latched-unack', 'latched-ack'] as const;
export type AlarmState = (typeof ALARM_STATES)[number];

/** Inhibits are independent of each other and of the state beneath; the shown one is the first in this order. */
export type Inhibit = 'out-of-service' | 'suppressed' | 'shelved';

/** An alarm that a person must answer: a condition at a subject, from one activation to its end. */
export type AlarmPicture = {
  /** Given at activation; stable over restarts. */
  readonly id: string;
  readonly subject: string;
  readonly finding: Finding;
  readonly priority: Priority;
  readonly state: AlarmState;
  readonly inhibit?: Inhibit;
  readonly inhibitUntilMs?: number;
  readonly activatedMs: number;
  readonly changedMs: number;
  readonly acknowledgedBy?: string;
  readonly acknowledgedMs?: number;
};
