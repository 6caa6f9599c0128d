import { type Entry, isKind } from '../log/entry.js';
import type { Span } from './piece.js';

const HOUR_MS = 3_600_000;

/** How far back is looked: acute, short chain, slow, and the whole life of the batch. Source: working order of the trade. */
export const WINDOW_NAMES = ['24h', '72h', '14d', 'batch'] as const;
export type WindowName = (typeof WINDOW_NAMES)[number];
export type ReviewWindow = Span & { readonly name: WindowName };

const BACK_H: Readonly<Record<Exclude<WindowName, 'batch'>, number>> = { '24h': 24, '72h': 72, '14d': 14 * 24 };

/** Deaths began somewhere between the two: an interval, never a point. */
export type Onset = {
  /** Nobody wrote down that the animals were alive: undefined, and the interval is open to the past. */
  readonly certainAliveMs?: number;
  readonly certainDeadMs: number;
  /** The entries that say so. */
  readonly aliveEntryId?: string;
  readonly deadEntryId?: string;
};

/** Whether an entry proves that animals were alive at its time. Feeding, a visit or silence proves nothing. */
const showsAlive = (entry: Entry): boolean => {
  if (isKind(entry, 'brought-in', 'eggs-stocked')) return true;
  if (isKind(entry, 'count')) return true;
  return isKind(entry, 'drain-down') && entry.fields.swimming !== undefined && entry.fields.swimming !== 'none';
};

/** Whether an entry proves that animals were dead at its time: what a review can begin from. */
export const showsDead = (entry: Entry): boolean => {
  if (isKind(entry, 'deaths')) return true;
  if (isKind(entry, 'dump')) return true;
  if (!isKind(entry, 'drain-down')) return false;
  return entry.fields.swimming === 'none' || (entry.fields.dead ?? 0) > 0;
};

const isAt = (entry: Entry, placeIds: readonly string[]): boolean =>
  entry.placeId !== undefined && placeIds.includes(entry.placeId);

/**
 * From the entries that count, of the tanks in question: the earliest of their deaths from `sinceMs` on, and before it the
 * last proof of life of each tank. The interval begins with the earliest of these, and is open to the past when a tank has
 * none. `deadMs` is given where a person began the review by hand.
 */
export const onsetOf = (
  entries: readonly Entry[],
  { placeIds, sinceMs, deadMs }: { placeIds: readonly string[]; sinceMs: number; deadMs?: number },
): Onset | undefined => {
  const dead = entries.find((entry) => entry.atMs >= sinceMs && isAt(entry, placeIds) && showsDead(entry));
  const certainDeadMs = Math.min(deadMs ?? Number.POSITIVE_INFINITY, dead?.atMs ?? Number.POSITIVE_INFINITY);
  if (!Number.isFinite(certainDeadMs)) return undefined;
  const alive = placeIds.map((id) =>
    entries.findLast((entry) => entry.atMs < certainDeadMs && isAt(entry, [id]) && showsAlive(entry)),
  );
  const known = alive.filter((entry) => entry !== undefined).toSorted((a, b) => a.atMs - b.atMs);
  const first = known.length === placeIds.length ? known[0] : undefined;
  return {
    certainDeadMs,
    ...(dead === undefined || dead.atMs > certainDeadMs ? {} : { deadEntryId: dead.id }),
    ...(first === undefined ? {} : { certainAliveMs: first.atMs, aliveEntryId: first.id }),
  };
};

/**
 * Each window reaches back so long before the onset interval and ends with it: what happened inside the interval may have
 * come before the deaths. Without a proof of life it reaches back from the first certain death.
 */
export const reviewWindows = (onset: Onset, batchBeganMs: number | undefined): readonly ReviewWindow[] => {
  const startMs = onset.certainAliveMs ?? onset.certainDeadMs;
  const toMs = onset.certainDeadMs;
  const back = (['24h', '72h', '14d'] as const).map((name) => ({
    name,
    fromMs: startMs - BACK_H[name] * HOUR_MS,
    toMs,
  }));
  return batchBeganMs === undefined || batchBeganMs >= toMs
    ? back
    : [...back, { name: 'batch', fromMs: batchBeganMs, toMs }];
};

/** The widest span that any of the windows needs. */
export const widest = (windows: readonly Span[]): Span => ({
  fromMs: Math.min(...windows.map(({ fromMs }) => fromMs)),
  toMs: Math.max(...windows.map(({ toMs }) => toMs)),
});
