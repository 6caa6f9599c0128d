import type { Quantity } from '../../rules/quantity.js';
import type { TimeSpan } from '../journal/gateway-runs.js';
import { HOUR_MS } from '../journal/hour.js';
import type { DayColumns } from '../journal/sealed/day.js';
import type { WholeRow } from '../journal/stored-rows.js';
import type { Use, UseOfFlags } from '../journal/use.js';
import type { HistoryRow } from './history.js';
import type { Piece } from './pieces.js';
import { NOTHING, type RowsSum } from './rows-sum.js';
import type { HourRow, SourceRows } from './source-rows.js';
import type { Lump, Sink, Track } from './track.js';

export type MeasuredParts = {
  readonly rows: SourceRows;
  readonly useOfFlags: UseOfFlags;
  readonly quantity: Quantity;
  readonly pieces: readonly Piece[];
};

/** Rows a page of an export; few enough to answer other questions between two pages. */
const PAGE_ROWS = 5_000;

export const buildMeasuredTrack = ({ rows, useOfFlags, quantity, pieces }: MeasuredParts): Track => {
  const periods = pieces.flatMap(({ periodMs }) => (periodMs === undefined ? [] : [periodMs]));

  const walkRaw = (piece: Piece, sink: Sink): void => {
    for (const { deviceMs, raw, flags } of rows.blocks(piece.sourceId, piece.fromMs, piece.toMs)) {
      for (let n = 0; n < deviceMs.length; n += 1) {
        const use = useOfFlags(flags[n] ?? 0);
        sink.reading(deviceMs[n] ?? 0, use === 'usable' ? piece.correct(raw[n] ?? 0) : undefined, use);
      }
    }
  };
  const walkHours = (piece: Piece, whole: TimeSpan, sink: Sink): void => {
    const marked = [...rows.markedHours(piece.sourceId, whole)].reverse();
    const walkMarkedBefore = (hour: number): void => {
      for (let next = marked.at(-1); next !== undefined && next < hour; next = marked.at(-1)) {
        walkRaw({ ...piece, fromMs: next * HOUR_MS, toMs: (next + 1) * HOUR_MS }, sink);
        marked.pop();
      }
    };
    for (const row of rows.hours(piece.sourceId, whole)) {
      walkMarkedBefore(row[0]);
      sink.lump(lumpFromHour(row, piece.correct));
    }
    walkMarkedBefore(Number.POSITIVE_INFINITY);
  };

  return {
    quantity,
    covered: pieces,
    ...(periods.length === 0 ? {} : { periodMs: Math.max(...periods) }),
    count: (span, atMost) =>
      within(pieces, span).reduce(
        (sum, piece) =>
          sum >= atMost ? sum : sum + rows.count(piece.sourceId, piece.fromMs, piece.toMs, atMost - sum),
        0,
      ),
    walk: (span, lumped, sink) => {
      for (const piece of within(pieces, span)) {
        const whole = wholeHours(piece);
        if (!lumped || whole.fromMs >= whole.toMs) walkRaw(piece, sink);
        else {
          // An hour with an edge of span, mapping or calibration in it is read from its rows.
          walkRaw({ ...piece, toMs: whole.fromMs }, sink);
          walkHours(piece, whole, sink);
          walkRaw({ ...piece, fromMs: whole.toMs }, sink);
        }
      }
    },
    uncomputed: () => [],
    addRows: (span, sum) => {
      for (const piece of within(pieces, span)) {
        for (const columns of rows.blocks(piece.sourceId, piece.fromMs, piece.toMs))
          addBlock(sum, columns, piece, useOfFlags);
      }
    },
    ...neighbours(rows, pieces),
    page: (span) => {
      const [piece, ...later] = within(pieces, span);
      if (piece === undefined) return { rows: [] };
      const found = rows.whole(piece.sourceId, piece.fromMs, piece.toMs, PAGE_ROWS);
      const row = (one: WholeRow): HistoryRow => rowOf(one, piece, useOfFlags(one.flags));
      if (found.length === PAGE_ROWS) {
        const continueMs = found.at(-1)?.device_ms ?? piece.toMs;
        return { rows: found.filter(({ device_ms }) => device_ms < continueMs).map(row), continueMs };
      }
      return { rows: found.map(row), ...(later[0] === undefined ? {} : { continueMs: later[0].fromMs }) };
    },
  };
};

/** Of the sources that ruled at the edges; a source that had another meaning beyond it still shows that its board spoke. */
export const neighbours = (rows: SourceRows, pieces: readonly Piece[]): Pick<Track, 'lastBefore' | 'firstFrom'> => {
  const at = (edgeMs: number): Piece | undefined =>
    pieces.find(({ fromMs, toMs }) => fromMs <= edgeMs && edgeMs <= toMs);
  return {
    lastBefore: (fromMs) => {
      const piece = at(fromMs);
      return piece === undefined ? undefined : rows.lastBefore(piece.sourceId, fromMs);
    },
    firstFrom: (toMs) => {
      const piece = at(toMs);
      return piece === undefined ? undefined : rows.firstFrom(piece.sourceId, toMs);
    },
  };
};

export const within = (pieces: readonly Piece[], { fromMs, toMs }: TimeSpan): readonly Piece[] =>
  pieces.flatMap((piece) => {
    const cut = { ...piece, fromMs: Math.max(piece.fromMs, fromMs), toMs: Math.min(piece.toMs, toMs) };
    return cut.fromMs < cut.toMs ? [cut] : [];
  });

export const wholeHours = ({ fromMs, toMs }: TimeSpan): TimeSpan => ({
  fromMs: Math.ceil(fromMs / HOUR_MS) * HOUR_MS,
  toMs: Math.floor(toMs / HOUR_MS) * HOUR_MS,
});

/** Written out field by field: a year has 8,760 of them. */
const lumpFromHour = (row: HourRow, correct: Piece['correct']): Lump => {
  const [, usable, outOfWater, notPlausible, faultValue, sum, least, greatest, firstMs, lastMs] = row;
  const readings = usable + outOfWater + notPlausible + faultValue;
  const otherwise: Use = outOfWater >= notPlausible + faultValue ? 'out-of-water' : 'not-plausible';
  if (least === null || greatest === null) return { firstMs, lastMs, readings, usable, otherwise };
  // A falling calibration turns least and greatest round.
  const [one, other] = [correct(least), correct(greatest)];
  const water = { min: Math.min(one, other), mean: correct(sum / usable), max: Math.max(one, other) };
  return { firstMs, lastMs, readings, usable, otherwise, water };
};

/** The same numbers as `rowOf` makes of each, without a row for each: there are millions. */
const addBlock = (sum: RowsSum, columns: DayColumns, { sourceId, correct }: Piece, useOfFlags: UseOfFlags): void => {
  const { deviceMs, delayMs, variant, raw, flags, refusedMs } = columns;
  for (let n = 0; n < deviceMs.length; n += 1) {
    const [atMs, sent, flag, refused] = [deviceMs[n] ?? 0, raw[n] ?? 0, flags[n] ?? 0, refusedMs[n] ?? NOTHING];
    const [stampMs, usable] = [Number.isNaN(refused) ? NOTHING : refused, useOfFlags(flag) === 'usable' ? 1 : 0];
    sum.add([atMs, atMs + (delayMs[n] ?? 0), sourceId, variant[n] ?? 0, sent, flag, stampMs, correct(sent), usable]);
  }
};

const rowOf = (row: WholeRow, { sourceId, unit, correct }: Piece, use: Use): HistoryRow => ({
  atMs: row.device_ms,
  arrivalMs: row.device_ms + row.delay_ms,
  sent: {
    sourceId,
    variant: row.variant,
    raw: row.raw,
    unit,
    flags: row.flags,
    ...(row.refused_ms === null ? {} : { refusedMs: row.refused_ms }),
  },
  value: correct(row.raw),
  usable: use === 'usable',
});
