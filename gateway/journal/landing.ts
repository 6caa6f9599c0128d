import type { AlarmPicture } from '../../rules/alarm/alarm.js';
import type { Score } from '../../rules/conditions/forecast.js';
import type { Change } from '../../rules/wire/feed.js';

/** A reading as it is kept. Key: (sourceId, deviceMs, variant); the journal finds the variant. Raw never changes. */
export type KeptReading = {
  readonly sourceId: number;
  /** Accepted device time, else arrival. */
  readonly deviceMs: number;
  readonly arrivalMs: number;
  readonly raw: number;
  /** Quality verdict packed by rules/quality. */
  readonly flags: number;
  /** The board's own stamp where it was not accepted. */
  readonly refusedMs?: number;
};

export type MalformedMessage = {
  readonly atMs: number;
  readonly topic: string;
  readonly board?: string;
  readonly code: string;
  /** Canonical parameters of the fault, for the sentence. */
  readonly parameters: Readonly<Record<string, string | number>>;
  /** The whole, or its start ... */
  readonly payload: Uint8Array;
  /** ... and then how long the whole was. */
  readonly bytes?: number;
};

export type AlarmChange = {
  readonly atMs: number;
  readonly alarm: AlarmPicture;
  readonly event: string;
  readonly by?: string;
};

/** Everything that one group of messages caused: committed together, or not at all. */
export type Landing = {
  readonly readings: readonly KeptReading[];
  readonly revisions: readonly {
    readonly sourceId: number;
    readonly deviceMs: number;
    readonly flags: number;
  }[];
  readonly alarms: readonly AlarmChange[];
  /** Forecasts whose time has passed. */
  readonly scores?: readonly Score[];
  readonly malformed: readonly MalformedMessage[];
  readonly boards: readonly {
    readonly board: string;
    readonly state: 'online' | 'offline';
    readonly atMs: number;
  }[];
  /** Packets taken, so that a redelivery of an unstamped reading is recognised after a restart. */
  readonly packets: readonly {
    readonly packetId: number;
    readonly fingerprint: string;
  }[];
  readonly snapshot?: {
    readonly atMs: number;
    readonly version: number;
    readonly body: string;
  };
};

export type Landed = {
  readonly changes: readonly Change[];
  /** Same source and millisecond, another value: kept as a further variant and flagged suspect. */
  readonly variants: number;
  /** Same source, millisecond and value: the same reading, kept once. */
  readonly repeats: number;
};
