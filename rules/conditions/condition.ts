import type { ChannelNow, PlaceNow } from '../engine/now.js';
import type { Place } from '../place.js';
import type { Quantity } from '../quantity.js';
import type { Wants } from '../wire/picture.js';
import type { DeclaredWork } from '../work.js';
import type { ConditionCode, Finding } from './finding.js';

/** What a condition may look at: one channel of one place, or one place, at one moment. */
export type Sight = {
  /** Device time of the reading judged, or the moment of the deadline. */
  readonly atMs: number;
  /** The gateway's clock: what silence is measured by. */
  readonly nowMs: number;
  readonly place: Place;
  readonly placeNow: PlaceNow;
  readonly work: readonly DeclaredWork[];
  /** The subject's channel; place conditions have none. */
  readonly channel?: ChannelNow | undefined;
  readonly quantity?: Quantity | undefined;
  readonly wants?: Wants | undefined;
  /** Another measured or computed channel of the same place. */
  readonly beside: (quantity: Quantity) => ChannelNow | undefined;
};

/** Plain data that a condition keeps between two looks. */
export type Memory = { readonly [key: string]: number | string | boolean | undefined };

export type Before = { readonly raw: boolean; readonly on: boolean; readonly memory?: Memory | undefined };

export type Opinion = {
  /** Undefined: cannot tell now, so state and timers stay as they are. */
  readonly raw: boolean | undefined;
  readonly finding?: Omit<Finding, 'sinceMs' | 'condition' | 'placeId' | 'channelId'>;
  readonly memory?: Memory;
  /** Look again then, even if nothing is heard. */
  readonly againAtMs?: number;
};

export type Timing = { readonly onDelayMs: number; readonly offDelayMs: number; readonly latching?: boolean };

/** Where a condition may stand: decided when the hatchery's settings change, not at each reading. */
export type Standpoint = {
  readonly place: Place;
  readonly quantity?: Quantity;
  readonly wants?: Wants;
  readonly computed?: boolean;
  readonly periodMs?: number;
};

/** One kind of trouble: one file, one shape. Pure; total; a bad reading is `raw: undefined`, never an exception. */
export type Condition = {
  readonly code: ConditionCode;
  readonly scope: 'channel' | 'place';
  readonly standsAt: (at: Standpoint) => boolean;
  readonly timing: (at: Standpoint) => Timing;
  readonly judge: (sight: Sight, before: Before) => Opinion;
};
