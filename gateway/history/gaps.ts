import { freshWithinMs } from '../../rules/time/accept.js';
import type { Gap, GapReason } from '../../rules/wire/api.js';
import type { TimeSpan } from '../journal/gateway-runs.js';
import type { Use } from '../journal/use.js';
import { medianOf } from './median.js';
import { type Reasons, reasonedParts } from './reasons.js';
import { buildSilenceFinder, rhythmMs, type Silence, type SilenceFinder } from './silence.js';
import type { Sink } from './track.js';

export type Surroundings = {
  readonly span: TimeSpan;
  /** Times of the nearest readings outside the span: a short silence over its edge is no gap. */
  readonly lastBeforeMs?: number | undefined;
  readonly firstFromMs?: number | undefined;
  readonly periodMs?: number | undefined;
  readonly reasons: Reasons;
};

export type GapFinder = Sink & { gaps(surroundings: Surroundings): readonly Gap[] };

/** Readings that are there but not water, from the first to the last; `nextMs` is the reading after them. */
type Dry = { readonly fromMs: number; lastMs: number; nextMs: number; readonly reason: GapReason };

const SAMPLE = 1_024;
const SHORTEST_MS = freshWithinMs(undefined);

/**
 * A gap is a silence, or a stretch without a usable reading, of more than three periods and more than a minute. The
 * period is what somebody told us, else the rhythm of the readings around the silence: a board that was made to send
 * more often was not silent before. A gap inside one lump is not seen.
 */
export const buildGapFinder = (): GapFinder => {
  const found = buildSilenceFinder(SHORTEST_MS);
  const dry: Dry[] = [];
  const spacings: number[] = [];
  let firstMs: number | undefined;
  let lastMs: number | undefined;
  let open: Dry | undefined;

  const moveTo = (atMs: number): void => {
    firstMs ??= atMs;
    if (lastMs !== undefined) {
      found.spacing(lastMs, atMs);
      if (spacings.length < SAMPLE && atMs > lastMs) spacings.push(atMs - lastMs);
    }
    if (open !== undefined) open.nextMs = atMs;
  };
  const judge = (fromMs: number, toMs: number, use: Use): void => {
    lastMs = toMs;
    const reason = reasonOf(use);
    const goesOn = open !== undefined && open.reason === reason && open.nextMs - open.lastMs <= SHORTEST_MS;
    if (open !== undefined && goesOn) open.lastMs = open.nextMs = toMs;
    else {
      open = reason === undefined ? undefined : { fromMs, lastMs: toMs, nextMs: toMs, reason };
      if (open !== undefined) dry.push(open);
    }
  };

  return {
    reading: (atMs, _value, use) => {
      moveTo(atMs);
      judge(atMs, atMs, use);
    },
    lump: ({ firstMs: fromMs, lastMs: toMs, readings, usable, otherwise }) => {
      moveTo(fromMs);
      if (readings > 1) {
        const spacingMs = (toMs - fromMs) / (readings - 1);
        found.even(spacingMs);
        if (spacings.length < SAMPLE) spacings.push(spacingMs);
      }
      judge(fromMs, toMs, usable > 0 ? 'usable' : otherwise);
    },
    gaps: (around) => {
      const usualMs = medianOf(spacings);
      const longestMs = freshWithinMs(around.periodMs ?? usualMs);
      const quiet = [...edgeSilences(around, firstMs, lastMs, found), ...found.silences].flatMap((silence) => {
        const mostMs = freshWithinMs(around.periodMs ?? rhythmMs(silence) ?? usualMs);
        if (silence.toMs - silence.fromMs <= mostMs) return [];
        return reasonedParts(clipped(silence, around.span), around.reasons, mostMs);
      });
      return [...quiet, ...dryGaps(dry, longestMs)].sort((a, b) => a.fromMs - b.fromMs);
    },
  };
};

const reasonOf = (use: Use): GapReason | undefined => {
  if (use === 'usable') return undefined;
  return use === 'out-of-water' ? 'out-of-water' : 'not-plausible';
};

const edgeSilences = (
  { span, lastBeforeMs, firstFromMs }: Surroundings,
  firstMs: number | undefined,
  lastMs: number | undefined,
  { first, last }: Pick<SilenceFinder, 'first' | 'last'>,
): readonly Silence[] => {
  const fromMs = lastBeforeMs ?? span.fromMs;
  const start = { fromMs, toMs: firstMs ?? firstFromMs ?? span.toMs, before: [], after: [...first] };
  if (firstMs === undefined || lastMs === undefined) return [start];
  return [start, { fromMs: lastMs, toMs: firstFromMs ?? span.toMs, before: [...last], after: [] }];
};

const clipped = ({ fromMs, toMs }: TimeSpan, span: TimeSpan): TimeSpan => ({
  fromMs: Math.max(fromMs, span.fromMs),
  toMs: Math.min(toMs, span.toMs),
});

/** A dry stretch reaches to the next reading, unless a silence follows it. Stretches that only a slow board parts are one. */
const dryGaps = (dry: readonly Dry[], longestMs: number): readonly Gap[] => {
  const joined: Dry[] = [];
  for (const stretch of dry) {
    const before = joined.at(-1);
    const follows = before !== undefined && before.nextMs === stretch.fromMs && before.reason === stretch.reason;
    if (before !== undefined && follows && before.nextMs - before.lastMs <= longestMs) {
      before.lastMs = stretch.lastMs;
      before.nextMs = stretch.nextMs;
    } else joined.push({ ...stretch });
  }
  return joined.flatMap(({ fromMs, lastMs, nextMs, reason }) => {
    const toMs = nextMs - lastMs <= longestMs ? nextMs : lastMs;
    return toMs - fromMs > longestMs ? [{ fromMs, toMs, reason }] : [];
  });
};
