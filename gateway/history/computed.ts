import { COMPANION_MS } from '../../rules/engine/computed.js';
import type { Quantity } from '../../rules/quantity.js';
import type { TimeSpan } from '../journal/gateway-runs.js';
import { HOUR_MS } from '../journal/hour.js';
import type { Use, UseOfFlags } from '../journal/use.js';
import type { ComputedHours, HourStamps, Stamp } from './computed-hours.js';
import { buildLumper } from './lumper.js';
import { neighbours, wholeHours, within } from './measured.js';
import type { Piece } from './pieces.js';
import type { Recipe } from './recipe.js';
import type { SourceRows } from './source-rows.js';
import type { Lump, Sink, Track } from './track.js';

export type ComputedParts = {
  readonly rows: SourceRows;
  readonly useOfFlags: UseOfFlags;
  readonly quantity: Quantity;
  readonly recipe: Recipe;
  /** The measured channels in the order of `recipe.inputs`. */
  readonly inputs: readonly { readonly quantity: Quantity; readonly pieces: readonly Piece[] }[];
  readonly pressureKpa: number;
  readonly hours: ComputedHours;
  readonly stamps: HourStamps;
};

type Point = { readonly atMs: number; readonly value: number; readonly use: Use };

/** Computed from the readings of its inputs: never from their means, which would be another number. */
export const buildComputedTrack = (parts: ComputedParts): Track => {
  const { rows, quantity, inputs, hours, stamps } = parts;
  const lead = inputs[0]?.pieces ?? [];
  const periods = lead.flatMap(({ periodMs }) => (periodMs === undefined ? [] : [periodMs]));

  const walkHours = (whole: TimeSpan, sink: Sink): void => {
    for (const { span, stamp, known } of eachHour(whole)) {
      if (stamp === undefined) walkPoints(parts, span, sink);
      else {
        const lump = known ?? computeHour(span, stamp);
        if (lump.readings > 0) sink.lump(lump);
      }
    }
  };
  function* eachHour(whole: TimeSpan): Generator<{ span: TimeSpan; stamp: Stamp | undefined; known?: Lump }> {
    const stampOf = stamps(whole);
    const before = hours.within(whole);
    for (let atMs = whole.fromMs; atMs < whole.toMs; atMs += HOUR_MS) {
      const [span, stamp, hour] = [{ fromMs: atMs, toMs: atMs + HOUR_MS }, stampOf(atMs), before.get(atMs)];
      const isKnown = stamp !== undefined && hour?.stamp.equals(stamp) === true;
      yield { span, stamp, ...(isKnown ? { known: hour.lump } : {}) };
    }
  }
  /** With what lies before it: the first companions. */
  const isMissing = ({ fromMs, toMs }: TimeSpan): boolean =>
    inputs.some(({ pieces }) =>
      within(pieces, { fromMs: fromMs - COMPANION_MS, toMs }).some((piece) => rows.isMissing(piece.sourceId, piece)),
    );
  const computeHour = (span: TimeSpan, stamp: Stamp): Lump => {
    const lumper = buildLumper();
    walkPoints(parts, span, lumper);
    const lump = lumper.lump();
    // Without its readings an hour is not known to be empty.
    if (!isMissing(span)) hours.keep(span.fromMs, { stamp, lump });
    return lump;
  };

  return {
    quantity,
    covered: lead,
    ...(periods.length === 0 ? {} : { periodMs: Math.max(...periods) }),
    count: (span, atMost) =>
      within(lead, span).reduce((sum, piece) => sum + rows.count(piece.sourceId, piece.fromMs, piece.toMs, atMost), 0),
    walk: (span, lumped, sink) => {
      const whole = wholeHours(span);
      if (!lumped || whole.fromMs >= whole.toMs) {
        walkPoints(parts, span, sink);
        return;
      }
      walkPoints(parts, { fromMs: span.fromMs, toMs: whole.fromMs }, sink);
      walkHours(whole, sink);
      walkPoints(parts, { fromMs: whole.toMs, toMs: span.toMs }, sink);
    },
    uncomputed: (span) =>
      Array.from(eachHour(wholeHours(span))).flatMap((hour) => (hour.known === undefined ? [hour.span] : [])),
    ...neighbours(rows, lead),
    page: (span) => pageOf(parts, span),
  };
};

const PAGE_MS = 4 * HOUR_MS;

const pageOf = (parts: ComputedParts, span: TimeSpan): ReturnType<Track['page']> => {
  const endMs = Math.min(span.fromMs + PAGE_MS, span.toMs);
  const found: { atMs: number; arrivalMs: number; value?: number; usable: boolean }[] = [];
  walkPoints(
    parts,
    { fromMs: span.fromMs, toMs: endMs },
    {
      reading: (atMs, value, use) =>
        found.push({ atMs, arrivalMs: atMs, ...(value === undefined ? {} : { value }), usable: use === 'usable' }),
    },
  );
  return { rows: found, ...(endMs < span.toMs ? { continueMs: endMs } : {}) };
};

const walkPoints = (parts: ComputedParts, span: TimeSpan, sink: Pick<Sink, 'reading'>): void => {
  const [lead, ...companions] = parts.inputs;
  if (lead === undefined || span.fromMs >= span.toMs) return;
  const wider = { fromMs: span.fromMs - COMPANION_MS, toMs: span.toMs };
  const beside = companions.map(({ quantity, pieces }) => ({ quantity, at: latest(pointsOf(parts, pieces, wider)) }));
  for (const point of pointsOf(parts, lead.pieces, span)) {
    const present = beside.map(({ quantity, at }) => ({ quantity, point: at(point.atMs) }));
    computePoint(parts, point, [{ quantity: lead.quantity, point }, ...present], sink);
  }
};

type Input = { readonly quantity: Quantity; readonly point: Point | undefined };

const computePoint = (
  { recipe, pressureKpa }: ComputedParts,
  { atMs }: Point,
  inputs: readonly Input[],
  sink: Pick<Sink, 'reading'>,
): void => {
  const known: { [quantity in Quantity]?: number } = {};
  for (const { quantity, point } of inputs) {
    if (point === undefined || atMs - point.atMs > COMPANION_MS) return;
    if (point.use !== 'usable') {
      sink.reading(atMs, undefined, point.use);
      return;
    }
    known[quantity] = point.value;
  }
  const answer = recipe.run(known, pressureKpa);
  if (answer === undefined) return;
  if (answer.ok) sink.reading(atMs, answer.value, 'usable');
  // A conductivity next to nothing is a probe in air, not a broken one.
  else sink.reading(atMs, undefined, answer.fault.code === 'impossible' ? 'out-of-water' : 'not-plausible');
};

function* pointsOf(
  { rows, useOfFlags }: Pick<ComputedParts, 'rows' | 'useOfFlags'>,
  pieces: readonly Piece[],
  span: TimeSpan,
): Generator<Point> {
  for (const piece of within(pieces, span)) {
    for (const [atMs, raw, flags] of rows.raw(piece.sourceId, piece.fromMs, piece.toMs)) {
      yield { atMs, value: piece.correct(raw), use: useOfFlags(flags) };
    }
  }
}

/** The last point up to a time that only grows. */
const latest = (points: Generator<Point>): ((atMs: number) => Point | undefined) => {
  let last: Point | undefined;
  let next = points.next();
  return (atMs) => {
    while (next.done !== true && next.value.atMs <= atMs) {
      last = next.value;
      next = points.next();
    }
    return last;
  };
};
