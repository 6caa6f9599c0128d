import type { Point } from '@influxdata/influxdb-client';
import type { RefusedReading } from '../journal/due.js';
import type { StoredReading } from '../journal/readings.js';
import type { WritePoints, Written } from './influx-write.js';

/** What became of readings that were offered: `later` when the database could not answer for all of them. */
export type Sent = {
  readonly refused: readonly RefusedReading[];
  readonly later?: Extract<Written, { kind: 'later' }>;
};

export type SendParts = {
  readonly write: WritePoints;
  readonly points: (readings: readonly StoredReading[]) => readonly Point[];
  /** Readings a request: 5,000 are some 0.6 MB before they are packed. */
  readonly atMost: number;
};

/** So many refusals without anything taken in between are looked into; what is refused then is set aside as it stands. */
const PIECES = 16;

/**
 * Offers readings some thousands at a time. Of a refused request the halves are offered again, until the readings are
 * found that are at fault: one bad reading never takes others with it, and never holds them up.
 */
export const sendAll = async (readings: readonly StoredReading[], parts: SendParts): Promise<Sent> => {
  const refused: RefusedReading[] = [];
  const patience = { left: PIECES };
  for (let at = 0; at < readings.length; at += parts.atMost) {
    const sent = await sendPiece(readings.slice(at, at + parts.atMost), parts, patience);
    refused.push(...sent.refused);
    if (sent.later !== undefined) return { refused, later: sent.later };
  }
  return { refused };
};

const sendPiece = async (
  readings: readonly StoredReading[],
  parts: SendParts,
  patience: { left: number },
): Promise<Sent> => {
  const written = await parts.write(parts.points(readings));
  if (written.kind === 'written') {
    patience.left = PIECES;
    return { refused: [] };
  }
  if (written.kind === 'later') return { refused: [], later: written };
  if (readings.length === 1 || patience.left <= 0) {
    patience.left -= 1;
    return { refused: readings.map((reading) => ({ ...keyOf(reading), because: written.because })) };
  }
  const middle = Math.ceil(readings.length / 2);
  const first = await sendPiece(readings.slice(0, middle), parts, patience);
  if (first.later !== undefined) return first;
  const second = await sendPiece(readings.slice(middle), parts, patience);
  return { ...second, refused: [...first.refused, ...second.refused] };
};

const keyOf = ({ sourceId, deviceMs, variant }: StoredReading): Omit<RefusedReading, 'because'> => ({
  sourceId,
  deviceMs,
  variant,
});
