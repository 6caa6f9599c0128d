import type { WaterMemory } from '../quality/out-of-water.js';
import type { Quantity } from '../quantity.js';
import type { ChannelState } from '../wire/picture.js';
import type { Task } from '../work.js';

/** Values of one hour that has passed, from one value a minute. */
export type HourRow = readonly [startMs: number, low: number, mean: number, high: number];

/** The hour under way. */
export type HourSoFar = {
  readonly startMs: number;
  readonly low: number;
  readonly high: number;
  readonly sum: number;
  readonly count: number;
};

/** What is known of one channel: its ruling probe's, or computed from others. */
export type ChannelNow = {
  /** Last usable value, corrected, canonical unit. */
  readonly value?: number | undefined;
  readonly atMs?: number | undefined;
  /** Gateway time at which a fresh reading was last heard, usable or not: the silence timer. */
  readonly heardMs: number;
  /** Since when readings cannot be water; undefined when they can. */
  readonly badMs?: number | undefined;
  readonly periodMs?: number | undefined;
  /** Recent usable values, thinned to one a minute, of the last hour: slopes. */
  readonly recent: readonly (readonly [atMs: number, value: number])[];
  /** The last 26 hours by the hour: what is usual here, and what it was like at this hour yesterday. */
  readonly hours: readonly HourRow[];
  readonly hour?: HourSoFar | undefined;
  /** When the state that a screen shows last changed, and which it was. */
  readonly shown?: { readonly state: ChannelState; readonly sinceMs: number } | undefined;
};

/** All fields in one order, those without a value too: objects of one form are several times cheaper to copy. */
export const inFull = (channel: ChannelNow): ChannelNow => {
  const { value, atMs, heardMs, badMs, periodMs, recent, hours, hour, shown } = channel;
  return { value, atMs, heardMs, badMs, periodMs, recent, hours, hour, shown };
};

/** A measurement by hand, and what the probe said at that moment. Canonical unit. */
export type HandMeasured = { readonly atMs: number; readonly value: number; readonly probe?: number };

export type PlaceNow = {
  readonly water: WaterMemory;
  readonly wet: 'wet' | 'dry' | 'unknown';
  readonly dryMs?: number | undefined;
  /** The last measurement by hand of each quantity. */
  readonly hand?: { readonly [quantity in Quantity]?: HandMeasured };
  /** When work that comes back was last done, as the log says. */
  readonly done?: { readonly [task in Task]?: number };
};

export type BoardNow = { readonly state: 'online' | 'offline' | 'unknown'; readonly sinceMs: number };

/** Whether people are on site, where somebody said so. */
export type Presence = { readonly onSite: boolean; readonly sinceMs: number };
