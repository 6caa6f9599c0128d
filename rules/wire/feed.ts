import type { AlarmPicture } from '../alarm/alarm.js';
import type { BoardPicture, ChannelPicture, LinkPicture, Picture, PlacePicture } from './picture.js';

/** Raised when pages and gateway no longer understand each other: the page reloads itself. */
export const FEED_API = 1;

/** A journalled change: replayed exactly to a screen that was away. */
export type Change =
  | {
      readonly sequence: number;
      readonly atMs: number;
      readonly kind: 'alarm';
      readonly alarm: AlarmPicture;
    }
  | {
      readonly sequence: number;
      readonly atMs: number;
      readonly kind: 'settings';
      readonly what: string;
      readonly by: string;
    }
  | {
      readonly sequence: number;
      readonly atMs: number;
      readonly kind: 'log';
      readonly entryId: string;
    }
  /** Somebody was called for a fault, or answered: the fault's picture is to be asked for again. */
  | {
      readonly sequence: number;
      readonly atMs: number;
      readonly kind: 'waking';
      readonly faultId: string;
    };

export type Hello = {
  readonly api: number;
  readonly build: string;
  readonly nowMs: number;
  /** Newest journal sequence at connecting. */
  readonly sequence: number;
};

export type Beat = {
  readonly atMs: number;
  /** How many readings landed. */
  readonly readings: number;
  readonly channels: readonly ChannelPicture[];
  /** Open alarms whose finding moved (value, time of harm) while their state did not. */
  readonly alarms: readonly AlarmPicture[];
};

/** Socket.io events, gateway to screen. Readings come as the present picture, changes in journal order without a gap. */
export type ServerEvents = {
  hello: (hello: Hello) => void;
  picture: (picture: Picture) => void;
  /** What moved since the last beat; at most four beats a second. */
  channels: (beat: Beat) => void;
  places: (places: readonly PlacePicture[]) => void;
  boards: (boards: readonly BoardPicture[]) => void;
  link: (link: LinkPicture) => void;
  change: (change: Change) => void;
  /** Each second, so that a frozen screen can be told from a calm room. */
  life: (life: { readonly nowMs: number; readonly lastReadingMs?: number; readonly readingsPerSecond: number }) => void;
};

/** Screen to gateway: the last sequence it holds goes in the handshake as `auth.since`. */
export type ClientEvents = Record<string, never>;
