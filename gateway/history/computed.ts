import { COMPANION_MS } from '../../rules/engine/computed.js';
import type { Quantity } from '../../rules/quantity.js';
import type { TimeSpan } from '../journal/gateway-runs.js';
import { HOUR_MS } from '../journal/hour.js';
import type { ComputedHours, HourStamps, Stamp } from './computed-hours.js';
import { type ComputedInputs, walkPoints } from './computed-points.js';
import { buildHourly, buildLumper } from './lumper.js';
import { neighbours, wholeHours, within } from './measured.js';
import type { SourceRows } from './source-rows.js';
import type { Lump, Sink, Track } from './track.js';

export type ComputedParts = ComputedInputs & {
  readonly rows: SourceRows;
  readonly quantity: Quantity;
  readonly hours: ComputedHours;
  readonly stamps: HourStamps;
};

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
  /** Passes readings on and keeps the hours that they make, so that the next look at them is a look-up. */
  const walkKeeping = (span: TimeSpan, sink: Sink): void => {
    const unknown = new Map<number, Stamp>();
    for (const { span: hour, stamp, known } of eachHour(wholeHours(span)))
      if (stamp !== undefined && known === undefined) unknown.set(hour.fromMs, stamp);
    if (unknown.size === 0) {
      walkPoints(parts, span, sink);
      return;
    }
    const byHour = buildHourly((atMs, lump) => {
      const stamp = unknown.get(atMs);
      const hour = { fromMs: atMs, toMs: atMs + HOUR_MS };
      if (stamp !== undefined && !isMissing(hour)) hours.keep(atMs, { stamp, lump });
    });
    walkPoints(parts, span, {
      reading: (atMs, value, use) => {
        byHour.reading(atMs, value, use);
        sink.reading(atMs, value, use);
      },
    });
    byHour.end();
  };
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
        walkKeeping(span, sink);
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
