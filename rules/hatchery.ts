import type { Place } from './place.js';

/**
 * A source is one stream as a board sends it; its number is given once, at first sight, and never reused.
 * `key` is the topic, then `#` and the JSON Pointer or SenML name where one message carries several.
 */
export type Source = {
  readonly id: number;
  readonly key: string;
  readonly topic: string;
  readonly pointer?: string;
  readonly board?: string;
  /** The unit that the message itself states (SenML `u`); else undefined and the mapping says it. */
  readonly statedUnit?: string;
  readonly firstSeenMs: number;
};

/** From when to when a source is a channel. Dated, so that a review knows which probe spoke then. */
export type Mapping = {
  readonly sourceId: number;
  readonly channelId: string;
  readonly unit: string;
  readonly fromMs: number;
  readonly toMs?: number;
  /** One ruling probe per channel; the others are companions. */
  readonly ruling: boolean;
  /** The board's period when somebody told us; else it is learned. */
  readonly periodMs?: number;
  /** The board that carries the source: its silence covers that of its probes. */
  readonly board?: string;
};

/** Where a board gets its power and its network, so that one cause is told once. */
export type BoardSettings = { readonly id: string; readonly circuitId?: string; readonly accessPoint?: string };

/** Corrected = slope × converted raw + offset, from `fromMs` on, until the next. Linear only. */
export type Calibration = {
  readonly sourceId: number;
  readonly fromMs: number;
  readonly slope: number;
  readonly offset: number;
  readonly by?: string;
};

export type Site = {
  /** Immutable, with a random suffix: `saltmarsh-lane-7k2q`. */
  readonly id: string;
  readonly name: string;
  readonly zone: string;
  readonly temperatureUnit: 'C' | 'F';
  readonly hours: 12 | 24;
  /** Between whole and part of a number; without it a point. */
  readonly decimalMark?: 'point' | 'comma';
  readonly altitudeM?: number;
  /** Whole UTC days that every single reading is kept; without it the gateway's own, 400. */
  readonly keepReadingsDays?: number;
  /** Days that the rollups of an hour are kept, never less than the readings; without it for ever. */
  readonly keepHoursDays?: number;
};

/** A fortnight's review, and the one before it, are always read by the reading. */
export const FEWEST_DAYS_KEPT = 30;
/** A hundred years. */
export const MOST_DAYS_KEPT = 36_525;

/** Everything that a person set: the engine judges by the one that rules at the moment. */
export type Hatchery = {
  readonly site: Site;
  readonly places: readonly Place[];
  readonly mappings: readonly Mapping[];
  readonly calibrations: readonly Calibration[];
  readonly boards?: readonly BoardSettings[];
};
