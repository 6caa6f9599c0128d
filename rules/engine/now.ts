import type { WaterMemory } from '../quality/out-of-water.js';
import type { ChannelState } from '../wire/picture.js';

/** What is known of one channel: its ruling probe's, or computed from others. */
export type ChannelNow = {
  /** Last usable value, corrected, canonical unit. */
  readonly value?: number;
  readonly atMs?: number;
  /** Gateway time at which a fresh reading was last heard, usable or not: the silence timer. */
  readonly heardMs: number;
  /** Since when readings cannot be water; undefined when they can. */
  readonly badMs?: number;
  readonly periodMs?: number;
  /** Recent usable values, thinned to one a minute, of the last hour: slopes. */
  readonly recent: readonly (readonly [atMs: number, value: number])[];
  /** When the state that a screen shows last changed, and which it was. */
  readonly shown?: { readonly state: ChannelState; readonly sinceMs: number };
};

export type PlaceNow = {
  readonly water: WaterMemory;
  readonly wet: 'wet' | 'dry' | 'unknown';
  readonly dryMs?: number;
};
