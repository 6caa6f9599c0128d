import type { Happening } from '../engine/happening.js';
import type { Place } from '../place.js';
import { tasksDone } from './done.js';
import { type Entry, isKind } from './entry.js';
import { onSite } from './round.js';

/**
 * What an entry tells the engine by itself, to be told before the settings that follow from it, so that a tank that has
 * just been filled is not overdue at once. Stage and work come with the settings and the declared work.
 */
export const newsFrom = (entry: Entry, nowMs: number, ruling: readonly Entry[]): readonly Happening[] => {
  const { placeId, atMs } = entry;
  const news: Happening[] = [];
  for (const done of tasksDone(entry, ruling)) news.push({ kind: 'done', atMs: nowMs, ...done });
  // A hand measurement says what the water was then: an old one says nothing of the probe now.
  if (isKind(entry, 'hand-measurement') && placeId !== undefined && nowMs - atMs < FRESH_MS) {
    const { quantity, value } = entry.fields;
    news.push({ kind: 'hand', atMs: nowMs, placeId, quantity, value });
  }
  if (isKind(entry, 'round', 'on-site')) {
    news.push({ kind: 'presence', atMs: nowMs, onSite: onSite(ruling, nowMs).length > 0 });
  }
  return news;
};

const FRESH_MS = 10 * 60_000;

/** A washed bed begins anew. */
export const cleanedBed = (entry: Entry, place: Place | undefined): Place | undefined => {
  if (!isKind(entry, 'cleaning') || entry.fields.what !== 'bed' || place?.bed === undefined) return undefined;
  const { cleanedAtMs } = place.bed;
  if (cleanedAtMs !== undefined && cleanedAtMs >= entry.atMs) return undefined;
  return { ...place, bed: { ...place.bed, cleanedAtMs: entry.atMs } };
};
