import type { Finding } from '../conditions/finding.js';
import type { Place } from '../place.js';

/** What a tank's recorded hours would have sounded, with the lines as they are and with others. */
export type SoundingsAsked = {
  readonly fromMs: number;
  readonly toMs: number;
  /** The tank as it would be set: only its lines are taken from it. */
  readonly place: Place;
};

/** One alarm that would have sounded. */
export type Sounding = {
  readonly atMs: number;
  /** Absent: still going at the end of the span. */
  readonly endedMs?: number;
  readonly finding: Finding;
  /** By night, and long enough for somebody to be called. */
  readonly wakes: boolean;
};

export type Soundings = {
  readonly fromMs: number;
  readonly toMs: number;
  readonly readings: number;
  readonly asSet: readonly Sounding[];
  readonly asAsked: readonly Sounding[];
};
