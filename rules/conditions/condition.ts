import type { ChannelNow, PlaceNow } from '../engine/now.js';
import type { Place } from '../place.js';
import type { Quantity } from '../quantity.js';
import type { Wants } from '../wire/picture.js';
import type { CheckCode } from '../words/check.js';
import type { EvidenceCode } from '../words/evidence.js';
import type { DeclaredWork } from '../work.js';
import type { ConditionCode, Finding } from './finding.js';
import type { View } from './view.js';

/** What a condition may look at: one channel of one place, one place, one board or the site, at one moment. */
export type Sight = {
  /** Device time of the reading judged, or the moment of the deadline. */
  readonly atMs: number;
  /** The gateway's clock: what silence is measured by. */
  readonly nowMs: number;
  /** The place itself; for a board or the site, the first that it serves. */
  readonly place: Place;
  readonly placeNow: PlaceNow;
  /** Declared here and not ended. */
  readonly work: readonly DeclaredWork[];
  /** Id of the channel, place, board or site. */
  readonly subject: string;
  /** The subject's channel; other conditions have none. */
  readonly channel?: ChannelNow | undefined;
  readonly quantity?: Quantity | undefined;
  readonly computed?: boolean | undefined;
  readonly wants?: Wants | undefined;
  /** Another measured or computed channel of the same place. */
  readonly beside: (quantity: Quantity) => ChannelNow | undefined;
  readonly view: View;
};

type Plain = number | string | boolean | null | undefined | readonly Plain[] | { readonly [key: string]: Plain };

/** Plain data that a condition keeps between two looks: it survives a snapshot. */
export type Memory = { readonly [key: string]: Plain };

export type Before = {
  readonly raw: boolean;
  readonly rawMs: number;
  readonly on: boolean;
  readonly memory?: Memory | undefined;
  readonly finding?: Finding | undefined;
};

/** What a condition says; the engine adds whose it is and since when. Every check and fact has its sentence. */
export type Said = Omit<Finding, 'sinceMs' | 'condition' | 'placeId' | 'channelId' | 'checks' | 'evidence'> & {
  /** The place to draw it at, and the channel that it is about, where those are not the subject's own. */
  readonly placeId?: string;
  readonly channelId?: string;
  readonly checks?: readonly CheckCode[];
  readonly evidence?: readonly EvidenceCode[];
};

export type Opinion = {
  /** Undefined: cannot tell now, so state and timers stay as they are. */
  readonly raw: boolean | undefined;
  readonly finding?: Said;
  readonly memory?: Memory;
  /** Look again then, even if nothing is heard. */
  readonly againAtMs?: number;
};

export type Timing = { readonly onDelayMs: number; readonly offDelayMs: number; readonly latching?: boolean };

/** Where a condition may stand: decided when the hatchery's settings change, not at each reading. */
export type Standpoint = {
  readonly place: Place;
  readonly quantity?: Quantity;
  readonly position?: string | undefined;
  readonly wants?: Wants | undefined;
  readonly computed?: boolean;
  readonly periodMs?: number;
  readonly board?: string;
  /** Computed oxygen whose probe, in the other unit, has limits of its own. */
  readonly isTwin?: boolean;
};

/** One kind of trouble: one file, one shape. Pure; total; a bad reading is `raw: undefined`, never an exception. */
export type Condition = {
  readonly code: ConditionCode;
  readonly scope: 'channel' | 'place' | 'board' | 'site';
  /**
   * Looks at whole multiples of this time instead of at each reading: slopes, and what many places share. All
   * conditions of one rhythm look at the same moment, whoever looks at the clock.
   */
  readonly everyMs?: number;
  /** Looks at the readings of its channel or place too. Without a rhythm that is understood. */
  readonly atReadings?: boolean;
  readonly standsAt: (at: Standpoint) => boolean;
  readonly timing: (at: Standpoint) => Timing;
  readonly judge: (sight: Sight, before: Before) => Opinion;
};
