import type { AlarmPicture } from "../alarm/alarm.js";
import type {
	BoardPicture,
	ChannelPicture,
	LinkPicture,
	Picture,
	PlacePicture,
} from "./picture.js";

/** Raised when pages and gateway no longer understand each other: the page reloads itself. */
export const FEED_API = 1;

/** A journalled change: replayed exactly to a screen that was away. */
export type Change =
	| {
			readonly sequence: number;
			readonly atMs: number;
			readonly kind: "alarm";
			readonly alarm: AlarmPicture;
	  }
	| {
			readonly sequence: number;
			readonly atMs: number;
			readonly kind: "settings";
			readonly what: string;
			readonly by: string;
	  }
	| {
			readonly sequence: number;
			readonly atMs: number;
			readonly kind: "log";
			readonly entryId: string;
	  };

export type Hello = {
	readonly api: number;
	readonly build: string;
	readonly nowMs: number;
	/** Newest journal sequence at connecting. */
	readonly sequence: number;
};

/** Socket.io events, gateway to screen. Readings come as the present picture, changes in journal order without a gap. */
export type ServerEvents = {
	hello: (hello: Hello) => void;
	picture: (picture: Picture) => void;
	/** Channels whose value or state moved since the last beat; at most four beats a second. */
	channels: (beat: {
		readonly atMs: number;
		readonly readings: number;
		readonly channels: readonly ChannelPicture[];
	}) => void;
	places: (places: readonly PlacePicture[]) => void;
	boards: (boards: readonly BoardPicture[]) => void;
	link: (link: LinkPicture) => void;
	change: (change: Change) => void;
	/** Each second, so that a frozen screen can be told from a calm room. */
	life: (life: {
		readonly nowMs: number;
		readonly lastReadingMs?: number;
		readonly readingsPerSecond: number;
	}) => void;
};

/** Screen to gateway: the last sequence it holds goes in the handshake as `auth.since`. */
export type ClientEvents = Record<string, never>;
