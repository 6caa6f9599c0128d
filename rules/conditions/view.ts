import type { BoardNow, ChannelNow, PlaceNow, Presence } from '../engine/now.js';
import type { Site } from '../hatchery.js';
import type { Place } from '../place.js';
import type { Quantity } from '../quantity.js';
import type { Wants } from '../wire/picture.js';
import type { DeclaredWork } from '../work.js';

/** One channel as it stands now. */
export type SeenChannel = {
  readonly id: string;
  readonly quantity: Quantity;
  readonly position?: string | undefined;
  readonly computed: boolean;
  readonly now: ChannelNow;
  readonly wants?: Wants | undefined;
  readonly place: Place;
};

/** One place as it stands now. */
export type Spot = {
  readonly place: Place;
  readonly now: PlaceNow;
  /** Declared and not ended. */
  readonly work: readonly DeclaredWork[];
  readonly channels: () => readonly SeenChannel[];
  /** The channel of a quantity; without a position the one that stands for the whole place. */
  readonly channel: (quantity: Quantity, position?: string) => SeenChannel | undefined;
};

/** A second probe in the same water, corrected, canonical unit. */
export type Companion = { readonly atMs: number; readonly value: number };

/** The rest of the hatchery, as a condition may look at it. Everything in it is asked for, nothing is prepared. */
export type View = {
  readonly site: Site;
  readonly pressureKpa: number;
  /** The gateway began then: nothing was heard before. */
  readonly startedMs: number;
  readonly link: { readonly broker: 'up' | 'down'; readonly sinceMs: number };
  readonly boards: Readonly<Record<string, BoardNow>>;
  readonly presence: Presence | undefined;
  /** All declared work, the ended of the last hours with it. */
  readonly work: readonly DeclaredWork[];
  readonly spotOf: (placeId: string | undefined) => Spot | undefined;
  /** Places whose line, air main, circuit or room this is, in their order on the wall. */
  readonly sharing: (supplyId: string | undefined) => readonly Spot[];
  readonly channelsOf: (board: string) => readonly SeenChannel[];
  /** Every channel that a probe measures. */
  readonly measured: () => readonly SeenChannel[];
  readonly everyMeasured: (holds: (channel: SeenChannel) => boolean) => boolean;
  readonly boardOf: (channelId: string) => string | undefined;
  readonly companions: (channelId: string) => readonly Companion[];
  /** Since when the stamps of one of its sources are being refused. */
  readonly clockWrongMs: (board: string) => number | undefined;
};

/** The same for a place that may not be there. */
export const channelAt = (spot: Spot | undefined, quantity: Quantity, position?: string): SeenChannel | undefined =>
  spot?.channel(quantity, position);
