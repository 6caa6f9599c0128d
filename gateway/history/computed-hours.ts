import { createHash } from 'node:crypto';
import type { Database } from '../journal/database.js';
import type { TimeSpan } from '../journal/gateway-runs.js';
import { HOUR_MS } from '../journal/hour.js';
import { within as piecesWithin } from './measured.js';
import type { Piece } from './pieces.js';
import type { SourceRows } from './source-rows.js';
import type { Lump } from './track.js';

/** What an hour was computed from, as a fingerprint: another calibration, mapping, verdict or late reading is another. */
export type Stamp = Buffer;

/** An hour of a computed channel, and what it was computed from. */
export type ComputedHour = { readonly stamp: Stamp; readonly lump: Lump };

/** Hours of one computed channel. Lost, they are computed again. */
export type ComputedHours = {
  /** By the time at which they begin. */
  within(whole: TimeSpan): ReadonlyMap<number, ComputedHour>;
  keep(atMs: number, computed: ComputedHour): void;
};

/** The stamps of a span's hours; undefined for an hour whose inputs are not yet computed themselves. */
export type HourStamps = (whole: TimeSpan) => (atMs: number) => Stamp | undefined;

type Row = {
  readonly hour: number;
  readonly stamp: Buffer;
  readonly first_ms: number;
  readonly last_ms: number;
  readonly readings: number;
  readonly usable: number;
  readonly otherwise: Lump['otherwise'];
  readonly min: number | null;
  readonly mean: number | null;
  readonly max: number | null;
};

/** The memory is a file of its own, which only the history's worker opens. */
export const prepareComputedHours = (memory: Database): ((channelId: string) => ComputedHours) => {
  memory.exec(`CREATE TABLE IF NOT EXISTS computed_hour (
    channel_id TEXT NOT NULL, hour INTEGER NOT NULL, stamp BLOB NOT NULL, first_ms INTEGER NOT NULL,
    last_ms INTEGER NOT NULL, readings INTEGER NOT NULL, usable INTEGER NOT NULL, otherwise TEXT NOT NULL,
    min REAL, mean REAL, max REAL, PRIMARY KEY (channel_id, hour)) WITHOUT ROWID`);
  const within = memory.prepare<[string, number, number], Row>(
    'SELECT * FROM computed_hour WHERE channel_id = ? AND hour >= ? AND hour < ?',
  );
  const keep = memory.prepare('INSERT OR REPLACE INTO computed_hour VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)');
  return (channelId) => ({
    within: ({ fromMs, toMs }) =>
      new Map(
        within
          .all(channelId, fromMs / HOUR_MS, toMs / HOUR_MS)
          .map((row) => [row.hour * HOUR_MS, { stamp: row.stamp, lump: lumpFromRow(row) }]),
      ),
    keep: (atMs, { stamp, lump: { firstMs, lastMs, readings, usable, otherwise, water } }) => {
      const numbers = [water?.min ?? null, water?.mean ?? null, water?.max ?? null];
      keep.run([channelId, atMs / HOUR_MS, stamp, firstMs, lastMs, readings, usable, otherwise, ...numbers]);
    },
  });
};

const lumpFromRow = (row: Row): Lump => {
  const { first_ms: firstMs, last_ms: lastMs, readings, usable, otherwise, min, mean, max } = row;
  const lump = { firstMs, lastMs, readings, usable, otherwise };
  return min === null || mean === null || max === null ? lump : { ...lump, water: { min, mean, max } };
};

type Input = { readonly pieces: readonly Piece[] };

/** An hour looks back into the one before for its first companions, so both are in its stamp. */
export const buildHourStamps =
  (rows: SourceRows, inputs: readonly Input[], pressureKpa: number): HourStamps =>
  (whole) => {
    const span = { fromMs: whole.fromMs - HOUR_MS, toMs: whole.toMs };
    const sources = new Set(inputs.flatMap(({ pieces }) => pieces.map(({ sourceId }) => sourceId)));
    const known = new Map(
      [...sources].map((id) => {
        const hours = new Map(rows.hours(id, span).map((row) => [row[0], row]));
        return [id, { hours, marked: new Set(rows.markedHours(id, span)) }];
      }),
    );
    return (atMs) => {
      const numbers = [pressureKpa];
      for (const [index, { pieces }] of inputs.entries()) {
        for (const piece of piecesWithin(pieces, { fromMs: atMs - HOUR_MS, toMs: atMs + HOUR_MS })) {
          const source = known.get(piece.sourceId);
          numbers.push(index, piece.sourceId, piece.fromMs, piece.toMs, piece.correct(0), piece.correct(1));
          for (const hour of [atMs / HOUR_MS - 1, atMs / HOUR_MS]) {
            if (source === undefined || source.marked.has(hour)) return undefined;
            for (const number of source.hours.get(hour) ?? []) numbers.push(number ?? 0);
          }
        }
      }
      return createHash('sha1').update(new Float64Array(numbers)).digest();
    };
  };
