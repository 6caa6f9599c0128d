import type { ChannelReadings, Gap, GapReason } from '../wire/api.js';

/** From `fromMs` up to, not including, `toMs`. */
export type Span = { readonly fromMs: number; readonly toMs: number };

/** A straight line from one reading to the next; of a whole hour its mean throughout, with the hour's least and most. */
export type Measured = Span & {
  readonly from: number;
  readonly to: number;
  readonly low?: number;
  readonly high?: number;
};
/** Time that nobody measured: never filled, and said with its reason. */
export type Unmeasured = Span & { readonly reason: GapReason };
export type Piece = Measured | Unmeasured;

export const isMeasured = (piece: Piece): piece is Measured => 'from' in piece;

/** What lies between two usable readings that a gap keeps apart. */
const between = (span: Span, gaps: readonly Gap[], otherwise: GapReason): readonly Unmeasured[] => {
  const inside = gaps.filter((gap) => gap.fromMs < span.toMs && gap.toMs > span.fromMs);
  const [first] = inside;
  if (first === undefined) return [{ ...span, reason: otherwise }];
  // The short rest at either end of a gap has its reason: no usable reading lies there.
  const edges = [span.fromMs, ...inside.slice(1).map((gap) => gap.fromMs), span.toMs];
  return inside.map(({ reason }, n) => ({
    fromMs: edges[n] ?? span.fromMs,
    toMs: edges[n + 1] ?? span.toMs,
    reason,
  }));
};

/** Index of the next usable reading from `from` on, or the end. */
const usableFrom = ({ mean }: ChannelReadings, from: number): number => {
  let n = from;
  while (n < mean.length && (mean[n] === null || mean[n] === undefined)) n += 1;
  return n;
};

const rawPieces = (readings: ChannelReadings): readonly Piece[] => {
  const { atMs, mean, fromMs, toMs, gaps } = readings;
  let last = usableFrom(readings, 0);
  const firstMs = atMs[last];
  if (firstMs === undefined) return between({ fromMs, toMs }, gaps, 'no-source');
  let lastMs: number = firstMs;
  const pieces: Piece[] = [];
  if (lastMs > fromMs) pieces.push(...between({ fromMs, toMs: lastMs }, gaps, 'board-silent'));
  let next = 0;
  for (let n = usableFrom(readings, last + 1); n < mean.length; n = usableFrom(readings, n + 1)) {
    const endMs = atMs[n] ?? lastMs;
    const isNew = endMs > lastMs;
    while ((gaps[next]?.toMs ?? Number.POSITIVE_INFINITY) <= lastMs) next += 1;
    const isApart = (gaps[next]?.fromMs ?? Number.POSITIVE_INFINITY) < endMs;
    // A reading in between that is no water breaks the line, however short the time.
    if (isNew && (isApart || n - last > 1))
      pieces.push(...between({ fromMs: lastMs, toMs: endMs }, gaps.slice(next), 'not-plausible'));
    else if (isNew) pieces.push({ fromMs: lastMs, toMs: endMs, from: mean[last] ?? 0, to: mean[n] ?? 0 });
    last = n;
    lastMs = endMs;
  }
  if (lastMs < toMs) pieces.push(...between({ fromMs: lastMs, toMs }, gaps, 'board-silent'));
  return pieces;
};

const bucketPieces = ({ atMs, mean, min, max, bucketMs, gaps, toMs }: ChannelReadings): readonly Piece[] =>
  atMs.flatMap((at, index): readonly Piece[] => {
    const span = { fromMs: at, toMs: Math.min(at + bucketMs, toMs) };
    const [value, low, high] = [mean[index], min[index], max[index]];
    if (value === undefined || value === null) return between(span, gaps, 'board-silent');
    return [{ ...span, from: value, to: value, low: low ?? value, high: high ?? value }];
  });

/**
 * A channel's past as straight lines and unmeasured time, in order, without overlap. Of two usable readings at one time
 * the first is taken. Source: geometry.
 */
export const piecesOf = (readings: ChannelReadings): readonly Piece[] =>
  readings.bucketMs === 0 ? rawPieces(readings) : bucketPieces(readings);

const valueAt = ({ fromMs, toMs, from, to }: Measured, atMs: number): number =>
  from + ((to - from) * (atMs - fromMs)) / (toMs - fromMs);

const clipped = (piece: Piece, span: Span): Piece | undefined => {
  const fromMs = Math.max(piece.fromMs, span.fromMs);
  const toMs = Math.min(piece.toMs, span.toMs);
  if (fromMs >= toMs) return undefined;
  if (fromMs === piece.fromMs && toMs === piece.toMs) return piece;
  if (!isMeasured(piece)) return { ...piece, fromMs, toMs };
  return { ...piece, fromMs, toMs, from: valueAt(piece, fromMs), to: valueAt(piece, toMs) };
};

/** Index of the first piece that ends after a moment: pieces lie in order, and windows are short beside their record. */
const firstEndingAfter = (pieces: readonly Piece[], atMs: number): number => {
  let [low, high] = [0, pieces.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((pieces[middle]?.toMs ?? 0) <= atMs) low = middle + 1;
    else high = middle;
  }
  return low;
};

/** Index of the first piece that begins at a moment or after it. */
export const firstBeginningAt = (pieces: readonly Piece[], atMs: number): number => {
  let [low, high] = [0, pieces.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((pieces[middle]?.fromMs ?? 0) < atMs) low = middle + 1;
    else high = middle;
  }
  return low;
};

/** The part of the pieces that lies in a span: only those at its ends are clipped. */
export const within = (pieces: readonly Piece[], span: Span): readonly Piece[] => {
  const inside = pieces.slice(firstEndingAfter(pieces, span.fromMs), firstBeginningAt(pieces, span.toMs));
  const ends = inside.length === 0 ? [] : [...new Set([inside.length - 1, 0])];
  for (const n of ends) {
    const part = inside[n] && clipped(inside[n], span);
    if (part === undefined) inside.splice(n, 1);
    else inside[n] = part;
  }
  return inside;
};

/** The same time, cut at every edge that lies inside a piece. Edges in rising order. */
export const cutAt = (pieces: readonly Piece[], edges: readonly number[]): readonly Piece[] => {
  const [first, last] = [pieces[0], pieces.at(-1)];
  if (first === undefined || last === undefined) return pieces;
  if (!edges.some((at) => at > first.fromMs && at < last.toMs)) return pieces;
  const cut: Piece[] = [];
  let next = 0;
  let edgeMs = edges[0] ?? Number.POSITIVE_INFINITY;
  for (const piece of pieces) {
    while (edgeMs <= piece.fromMs) {
      next += 1;
      edgeMs = edges[next] ?? Number.POSITIVE_INFINITY;
    }
    // Nearly every piece of a record.
    if (edgeMs >= piece.toMs) {
      cut.push(piece);
      continue;
    }
    let fromMs = piece.fromMs;
    for (let n = next; (edges[n] ?? Number.POSITIVE_INFINITY) < piece.toMs; n += 1) {
      const toMs = edges[n] ?? fromMs;
      const part = clipped(piece, { fromMs, toMs });
      if (part !== undefined) cut.push(part);
      fromMs = toMs;
    }
    const rest = clipped(piece, { fromMs, toMs: piece.toMs });
    if (rest !== undefined) cut.push(rest);
  }
  return cut;
};

export const hoursOf = ({ fromMs, toMs }: Span): number => (toMs - fromMs) / 3_600_000;
