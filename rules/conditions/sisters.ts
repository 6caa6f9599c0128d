import type { Quantity } from '../quantity.js';
import type { EvidenceCode } from '../words/evidence.js';
import type { Sight } from './condition.js';
import { firstUnbroken, isLive } from './trend.js';
import { channelAt, type SeenChannel, type Spot } from './view.js';

const isStill = ({ now: { wet }, work }: Spot): boolean => wet === 'dry' || work.length > 0;

/** How far a channel has moved over a span; undefined when that cannot be told. */
export const movedBy = (channel: SeenChannel | undefined, nowMs: number, spanMs: number): number | undefined => {
  if (channel === undefined || !isLive(channel.now, nowMs)) return undefined;
  const first = firstUnbroken(channel.now, nowMs - spanMs - 60_000);
  if (first === undefined || nowMs - first[0] < spanMs / 2) return undefined;
  return channel.now.value - first[1];
};

/** How far other tanks that share a supply have moved, those at work or out of the water left out. */
export const sistersMoved = (
  { place, view, nowMs }: Sight,
  supplyId: string | undefined,
  quantity: Quantity,
  spanMs: number,
): readonly number[] =>
  view.sharing(supplyId).flatMap((spot) => {
    if (spot.place.id === place.id || spot.place.kind !== 'tank' || isStill(spot)) return [];
    const moved = movedBy(channelAt(spot, quantity), nowMs, spanMs);
    return moved === undefined ? [] : [moved];
  });

/** Others went the same way by at least this share of the way. */
const SAME_SHARE = 0.4;

const share = (moves: readonly number[], by: number): number =>
  moves.length === 0
    ? 0
    : moves.filter((move) => move * by > 0 && Math.abs(move) >= SAME_SHARE * Math.abs(by)).length / moves.length;

/** Whether a tank moved alone, or with at least half of those that share its line. */
export const togetherness = (
  sight: Sight,
  quantity: Quantity,
  by: number,
  spanMs: number,
): 'alone' | 'together' | 'unknown' => {
  const moves = sistersMoved(sight, sight.place.lineId, quantity, spanMs);
  if (moves.length === 0) return 'unknown';
  return share(moves, by) >= 0.5 ? 'together' : 'alone';
};

const FACT: { readonly [how in ReturnType<typeof togetherness>]: readonly EvidenceCode[] } = {
  alone: ['only-this-tank'],
  together: ['sisters-moved-too'],
  unknown: [],
};

export const sisterFacts = (sight: Sight, quantity: Quantity, by: number, spanMs: number): readonly EvidenceCode[] =>
  FACT[togetherness(sight, quantity, by, spanMs)];
