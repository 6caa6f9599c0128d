import type { LinkPicture } from '../../rules/wire/picture.js';

/** How the page hears the gateway. */
export type FeedState =
  | { readonly kind: 'connecting'; readonly sinceMs: number }
  | { readonly kind: 'live' }
  | { readonly kind: 'lost'; readonly sinceMs: number };

/** Whether the screen can be believed, and since when not. */
export type Aliveness =
  | { readonly kind: 'waiting'; readonly sinceMs: number }
  | { readonly kind: 'live'; readonly agoMs: number }
  | { readonly kind: 'no-reading' }
  | { readonly kind: 'quiet'; readonly sinceMs: number }
  | { readonly kind: 'broker-down'; readonly sinceMs: number }
  | { readonly kind: 'lost'; readonly sinceMs: number };

/** The gateway says something each second; after this long without a word the page is not live, whatever the socket says. */
export const SILENCE_MS = 6000;
/** A room whose boards speak at least each minute is not calm but mute after this long. */
export const QUIET_MS = 180_000;

export const aliveness = (
  feed: FeedState,
  heardMs: number | undefined,
  room: { readonly link: LinkPicture; readonly lastReadingMs?: number } | undefined,
  nowMs: number,
): Aliveness => {
  if (room === undefined || heardMs === undefined)
    return feed.kind === 'live' ? { kind: 'waiting', sinceMs: nowMs } : { kind: 'waiting', sinceMs: feed.sinceMs };
  if (feed.kind === 'lost') return { kind: 'lost', sinceMs: Math.min(feed.sinceMs, heardMs) };
  if (nowMs - heardMs > SILENCE_MS) return { kind: 'lost', sinceMs: heardMs };
  if (room.link.broker === 'down') return { kind: 'broker-down', sinceMs: room.link.sinceMs };
  if (room.lastReadingMs === undefined) return { kind: 'no-reading' };
  const agoMs = Math.max(0, nowMs - room.lastReadingMs);
  return agoMs > QUIET_MS ? { kind: 'quiet', sinceMs: room.lastReadingMs } : { kind: 'live', agoMs };
};
