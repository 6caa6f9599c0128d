import type { Finding, Priority } from '../conditions/finding.js';
import type { CoreState, Inhibit, Life } from './lifecycle.js';

/** An alarm that a person must answer: a condition at a subject, from one activation to its end. */
export type Alarm = {
  /** Given at activation from condition, subject and time, so that a replay gives the same one. */
  readonly id: string;
  /** Channel id or place id. */
  readonly subject: string;
  readonly finding: Finding;
  readonly life: Life;
  readonly activatedMs: number;
  readonly changedMs: number;
  readonly acknowledgedBy?: string;
  readonly acknowledgedMs?: number;
  readonly shelvedUntilMs?: number;
  readonly shelvedSinceMs?: number;
  /** Who put it aside (shelved, or out of service), and why. */
  readonly asideBy?: string;
  readonly asideReason?: string;
};

/** An alarm as journalled and shown. Beneath an inhibit `state` tells what a lifting would bring. */
export type AlarmPicture = {
  readonly id: string;
  readonly subject: string;
  readonly finding: Finding;
  readonly priority: Priority;
  readonly state: CoreState;
  readonly inhibit?: Inhibit;
  readonly inhibitUntilMs?: number;
  /** Of what a person put aside. */
  readonly inhibitBy?: string;
  readonly inhibitReason?: string;
  readonly activatedMs: number;
  readonly changedMs: number;
  readonly acknowledgedBy?: string;
  readonly acknowledgedMs?: number;
};

const SHOWN_BENEATH = { inactive: 'normal', active: 'unack', latched: 'latched-unack' } as const;

export const alarmPicture = (alarm: Alarm): AlarmPicture => {
  const { life, id, subject, finding, activatedMs, changedMs, acknowledgedBy, acknowledgedMs, shelvedUntilMs } = alarm;
  const shelved = life.inhibits[0] === 'shelved' ? shelvedUntilMs : undefined;
  const isAside = life.inhibits.some((inhibit) => inhibit !== 'suppressed');
  return {
    id,
    subject,
    finding,
    priority: finding.priority,
    state: 'core' in life ? life.core : SHOWN_BENEATH[life.beneath],
    ...(life.inhibits[0] === undefined ? {} : { inhibit: life.inhibits[0] }),
    ...(shelved === undefined ? {} : { inhibitUntilMs: shelved }),
    ...(isAside && alarm.asideBy !== undefined ? { inhibitBy: alarm.asideBy } : {}),
    ...(isAside && alarm.asideReason !== undefined ? { inhibitReason: alarm.asideReason } : {}),
    activatedMs,
    changedMs,
    ...(acknowledgedBy === undefined ? {} : { acknowledgedBy }),
    ...(acknowledgedMs === undefined ? {} : { acknowledgedMs }),
  };
};
