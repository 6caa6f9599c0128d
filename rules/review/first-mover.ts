import type { Departure } from './departure.js';

/** Where a departure was: something that supplies the affected tanks, or a tank itself. */
export type Moved = Departure & { readonly placeId: string; readonly where: 'supply' | 'tank' };

export type FirstMover = {
  /** In the order in which they began. */
  readonly order: readonly Moved[];
  readonly first?: Moved;
  /** Others that may have begun as early: their clocks or silences do not tell them apart. */
  readonly together: readonly Moved[];
  /** Whether a supply left its usual range before every tank did; undefined where it cannot be told. */
  readonly supplyFirst?: boolean;
};

/** Boards stamp to the minute at best, and their clocks may be off as much: closer times are not ordered. */
export const CLOCK_DOUBT_MS = 60_000;

const isBefore = (a: Moved, b: Moved): boolean => a.toMs + CLOCK_DOUBT_MS < b.fromMs;

/** What came first, with its evidence. It says what moved first and names no cause: the first to move may be the first probe to see. */
export const firstMoverOf = (moved: readonly Moved[]): FirstMover => {
  const order = moved.toSorted(
    (a, b) => a.fromMs - b.fromMs || a.toMs - b.toMs || a.channelId.localeCompare(b.channelId),
  );
  const [first, ...others] = order;
  if (first === undefined) return { order, together: [] };
  const together = others.filter((other) => !isBefore(first, other));
  const supplies = order.filter(({ where }) => where === 'supply');
  const tanks = order.filter(({ where }) => where === 'tank');
  const supplyFirst = earlier(supplies, tanks);
  return { order, first, together, ...(supplyFirst === undefined ? {} : { supplyFirst }) };
};

const earlier = (supplies: readonly Moved[], tanks: readonly Moved[]): boolean | undefined => {
  const [supply, tank] = [supplies[0], tanks[0]];
  if (supply === undefined || tank === undefined) return undefined;
  if (isBefore(supply, tank)) return true;
  return isBefore(tank, supply) ? false : undefined;
};
