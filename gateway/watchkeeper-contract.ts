import type { AlarmPicture } from '../rules/alarm/alarm.js';
import type { Effect } from '../rules/engine/effect.js';
import type { Happening } from '../rules/engine/happening.js';
import type { EngineState } from '../rules/engine/state.js';
import type { Change } from '../rules/wire/feed.js';
import type { BoardPicture, ChannelPicture, LinkPicture, Picture, PlacePicture } from '../rules/wire/picture.js';

/** What a person's or the system's own news led to, after it was committed. */
export type Told = { readonly changes: readonly Change[]; readonly refusal?: Extract<Effect, { do: 'refuse' }> };

/** What one commit changed, as screens want it. */
export type LandedNews = {
  readonly atMs: number;
  readonly readings: number;
  readonly channels: readonly ChannelPicture[];
  /** Alarms whose finding moved while their state did not. */
  readonly alarms: readonly AlarmPicture[];
  /** Journalled, in the order of their sequence. */
  readonly changes: readonly Change[];
  readonly places?: readonly PlacePicture[];
  readonly boards?: readonly BoardPicture[];
  readonly link?: LinkPicture;
};

/** Writes rows of its own with each alarm change: in one transaction with it, or not at all. */
export type LandingGuest = {
  land(effects: readonly Extract<Effect, { do: 'alarm' }>[], after: EngineState): void;
  /** Committed; `moved`: open alarms whose finding moved. */
  landed(moved: readonly AlarmPicture[]): void;
  undone(): void;
};

/** The owner of the one engine state, as the rest of the gateway sees it. */
export type Watchkeeper = {
  state(): EngineState;
  picture(): Picture;
  /** Stepped, in order, and committed as one when it returns. */
  tell(...happenings: readonly Happening[]): Told;
  /** Called after each commit; returns its undoing. */
  onLanded(listen: (news: LandedNews) => void): () => void;
};
