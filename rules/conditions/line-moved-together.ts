import type { Quantity } from '../quantity.js';
import type { CheckCode } from '../words/check.js';
import type { EvidenceCode } from '../words/evidence.js';
import type { Condition, Opinion, Sight } from './condition.js';
import type { Priority } from './finding.js';
import { movedBy } from './sisters.js';
import { channelAt, type Spot } from './view.js';

const MINUTE_MS = 60_000;
const HOUR_MS = 3_600_000;
const SPAN_MS = 25 * MINUTE_MS;

/** So much in the span is not the day's weather. Common practice, no source. */
const MOVED: readonly (readonly [quantity: Quantity, by: number])[] = [
  ['temperature', 0.7],
  ['salinity', 0.7],
];
const FEWEST = 2;
const TOGETHER_SHARE = 0.6;
/** By the time in which the first of them passes its limit. */
const MEDIUM_H = 3;

type Move = { readonly spot: Spot; readonly by: number };

/** Still tanks have the line's water only when they are filled: they say nothing of it. */
const isSupplied = ({ place, now, work }: Spot): boolean =>
  place.kind === 'tank' && place.regime !== 'static' && now.wet !== 'dry' && work.length === 0;

const movesOf = (spots: readonly Spot[], quantity: Quantity, nowMs: number): readonly Move[] =>
  spots.filter(isSupplied).flatMap((spot) => {
    const by = movedBy(channelAt(spot, quantity), nowMs, SPAN_MS);
    return by === undefined ? [] : [{ spot, by }];
  });

/** The room that they stand in, and tanks of other lines in it, moved as well: then it is not the line. */
const isTheRoom = (
  { view, place, nowMs }: Sight,
  moves: readonly Move[],
  quantity: Quantity,
  sign: number,
  least: number,
): boolean => {
  if (quantity !== 'temperature') return false;
  const rooms = new Set(moves.map(({ spot }) => spot.place.roomId));
  const others = [...rooms].flatMap((room) =>
    view
      .sharing(room)
      .filter((spot) => spot.place.kind === 'tank' && spot.place.lineId !== place.id && spot.work.length === 0),
  );
  const theirs = others.flatMap((spot) => movedBy(channelAt(spot, quantity), nowMs, SPAN_MS) ?? []);
  return theirs.length > 0 && theirs.filter((by) => sign * by >= least / 2).length > theirs.length / 2;
};

const hoursToLimit = ({ spot, by }: Move, quantity: Quantity): number => {
  const channel = channelAt(spot, quantity);
  const limit = by > 0 ? channel?.wants?.limitHigh : channel?.wants?.limitLow;
  const value = channel?.now.value;
  if (limit === undefined || value === undefined) return Number.POSITIVE_INFINITY;
  return Math.max(0, ((limit - value) / by) * (SPAN_MS / HOUR_MS));
};

const checksOf = (quantity: Quantity, sign: number): readonly CheckCode[] =>
  quantity === 'temperature'
    ? ['supply-line', 'heater-off-at-wall', 'header-temperature', 'header-level']
    : sign < 0
      ? ['supply-line', 'hand-salinity', 'intake-rain', 'close-intake']
      : ['supply-line', 'hand-salinity'];

const found = (sight: Sight, quantity: Quantity, moved: readonly Move[], total: number): Opinion => {
  const { view, place, nowMs } = sight;
  const soonest = Math.min(...moved.map((move) => hoursToLimit(move, quantity)));
  const by = moved[0]?.by ?? 0;
  const own = channelAt(view.spotOf(place.id), quantity);
  const header = movedBy(own, nowMs, SPAN_MS);
  const shown = own ?? channelAt(moved[0]?.spot, quantity);
  const facts: readonly EvidenceCode[] = [
    ...(quantity === 'salinity' && by < 0 ? (['looks-like-rain'] as const) : []),
    ...(header !== undefined && header * by > 0 ? (['header-moved-too'] as const) : []),
  ];
  // Slow fresh water is for the morning; a limit within three hours is not.
  const priority: Priority = soonest <= MEDIUM_H ? 'medium' : 'low';
  return {
    raw: true,
    finding: {
      priority,
      ...(shown === undefined ? {} : { channelId: shown.id }),
      perHour: (by * HOUR_MS) / SPAN_MS,
      evidence: facts,
      places: [...moved]
        .sort((a, b) => hoursToLimit(a, quantity) - hoursToLimit(b, quantity))
        .map(({ spot }) => spot.place.id),
      ofPlaces: total,
      checks: checksOf(quantity, Math.sign(by)),
    },
  };
};

const together = (sight: Sight, [quantity, by]: (typeof MOVED)[number], wasRaw: boolean): Opinion | undefined => {
  const moves = movesOf(sight.view.sharing(sight.place.id), quantity, sight.nowMs);
  if (moves.length < FEWEST) return undefined;
  const least = wasRaw ? by / 2 : by;
  for (const sign of [1, -1]) {
    const moved = moves.filter((move) => sign * move.by >= least);
    if (moved.length < FEWEST || moved.length < TOGETHER_SHARE * moves.length) continue;
    if (!isTheRoom(sight, moves, quantity, sign, by)) return found(sight, quantity, moved, moves.length);
  }
  return undefined;
};

/** Tanks that one line feeds moved together, the same way: one fault upstream, not one in each tank. */
export const LINE_MOVED_TOGETHER: Condition = {
  code: 'line-moved-together',
  scope: 'place',
  everyMs: 30_000,
  standsAt: ({ place }) => place.kind === 'line',
  timing: () => ({ onDelayMs: MINUTE_MS, offDelayMs: 10 * MINUTE_MS }),
  judge: (sight, before) => {
    for (const kind of MOVED) {
      const opinion = together(sight, kind, before.raw);
      if (opinion !== undefined) return opinion;
    }
    return { raw: false };
  },
};
