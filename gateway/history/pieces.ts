import type { Calibration, Mapping } from '../../rules/hatchery.js';
import { conversionFrom, converted, type Quantity } from '../../rules/quantity.js';
import type { TimeSpan } from '../journal/gateway-runs.js';

/** A stretch of one channel in which one source ruled with one unit and one calibration. */
export type Piece = TimeSpan & {
  readonly sourceId: number;
  readonly unit: string;
  readonly periodMs?: number;
  /** Linear and finite: canonical unit, corrected. */
  readonly correct: (raw: number) => number;
};

export type Rulings = { readonly mappings: readonly Mapping[]; readonly calibrations: readonly Calibration[] };

/** The pieces of a channel within a span, in order, never overlapping: a later ruling probe takes over from its start. */
export const piecesOf = (
  { mappings, calibrations }: Rulings,
  channelId: string,
  quantity: Quantity,
  span: TimeSpan,
): readonly Piece[] => {
  const ruling = mappings
    .filter((mapping) => mapping.channelId === channelId && mapping.ruling)
    .sort((a, b) => a.fromMs - b.fromMs);
  return ruling.flatMap((mapping, index) => {
    const untilMs = Math.min(mapping.toMs ?? span.toMs, ruling[index + 1]?.fromMs ?? span.toMs, span.toMs);
    const mine = { fromMs: Math.max(mapping.fromMs, span.fromMs), toMs: untilMs };
    return calibratedPieces(mapping, quantity, mine, calibrations);
  });
};

const NO_CALIBRATION = { fromMs: Number.NEGATIVE_INFINITY, slope: 1, offset: 0 };

const calibratedPieces = (
  { sourceId, unit, periodMs }: Mapping,
  quantity: Quantity,
  { fromMs, toMs }: TimeSpan,
  calibrations: readonly Calibration[],
): readonly Piece[] => {
  const own = calibrations.filter((row) => row.sourceId === sourceId).sort((a, b) => a.fromMs - b.fromMs);
  const steps = [NO_CALIBRATION, ...own];
  const conversion = conversionFrom(quantity, unit);
  // A unit that is not understood was refused at the naming: such a source has no meaning here.
  if (conversion === undefined) return [];
  return steps.flatMap(({ slope, offset, ...step }, index) => {
    const piece = {
      fromMs: Math.max(step.fromMs, fromMs),
      toMs: Math.min(steps[index + 1]?.fromMs ?? toMs, toMs),
    };
    if (piece.fromMs >= piece.toMs) return [];
    const correct = (raw: number): number => slope * converted(conversion, raw) + offset;
    return [{ ...piece, sourceId, unit, correct, ...(periodMs === undefined ? {} : { periodMs }) }];
  });
};
