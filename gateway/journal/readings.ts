import type { Database } from './database.js';
import type { KeptReading } from './landing.js';
import type { Late } from './late.js';
import type { SealEdge } from './seal-edge.js';
import type { StoredRows, WholeRow } from './stored-rows.js';
import { flagsOfVariant } from './use.js';

/** A reading as it lies in the journal: with its variant. */
export type StoredReading = KeptReading & { readonly variant: number };

export type Kept = 'kept' | 'repeat' | 'variant';

export type Readings = {
  /**
   * Keeps one reading. The same source, millisecond and value is the same reading however often it comes; another value
   * at the same millisecond becomes the next variant, flagged suspect.
   */
  keep(reading: KeptReading): Kept;
  /** Gives the reading (variant 0) another verdict; false when there is none. Raw never changes. */
  revise(sourceId: number, deviceMs: number, flags: number): boolean;
  /** In order of device time and variant, the start of the span included and the end not. */
  between(sourceId: number, fromMs: number, toMs: number): readonly StoredReading[];
  newest(sourceId: number): StoredReading | undefined;
  /** Every source's readings from a device time on, in that order: to replay what no snapshot remembers. */
  since(fromMs: number): Iterable<StoredReading>;
};

export type ReadingsParts = {
  readonly database: Database;
  readonly rows: StoredRows;
  readonly late: Late;
  readonly edge: SealEdge;
};

export const buildReadings = ({ database, rows, late, edge }: ReadingsParts): Readings => {
  const insert = database.prepare<[number, number, number, number, number, number, number | null]>(
    `INSERT INTO reading (source_id, device_ms, variant, delay_ms, raw, flags, refused_ms)
     VALUES (?, ?, ?, ?, ?, ?, ?) ON CONFLICT DO NOTHING`,
  );
  const sameMoment = database
    .prepare<[number, number], number>('SELECT raw FROM reading WHERE source_id = ? AND device_ms = ? ORDER BY variant')
    .pluck();
  const revise = database.prepare<[number, number, number]>(
    'UPDATE reading SET flags = ? WHERE source_id = ? AND device_ms = ? AND variant = 0',
  );
  const sources = database
    .prepare<[], number>('SELECT id FROM source UNION SELECT DISTINCT source_id FROM sealed_day ORDER BY 1')
    .pluck();

  const keepAs = (variant: number, reading: KeptReading, flags: number): boolean => {
    const { sourceId, deviceMs, arrivalMs, raw, refusedMs } = reading;
    const delayMs = arrivalMs - deviceMs;
    return insert.run(sourceId, deviceMs, variant, delayMs, raw, flags, refusedMs ?? null).changes === 1;
  };
  const keepBeside = (reading: KeptReading, present: readonly number[]): Kept => {
    if (present.includes(reading.raw)) return 'repeat';
    keepAs(present.length, reading, flagsOfVariant(reading.flags));
    return 'variant';
  };
  const keep = (reading: KeptReading): Kept => {
    const { sourceId, deviceMs } = reading;
    const sealed = late.rawsAt(sourceId, deviceMs);
    if (sealed.length === 0 && keepAs(0, reading, reading.flags)) return 'kept';
    return keepBeside(reading, [...sealed, ...sameMoment.all(sourceId, deviceMs)]);
  };
  const between = (sourceId: number, fromMs: number, toMs: number): readonly StoredReading[] =>
    rows.whole(sourceId, fromMs, toMs).map((row) => readingFromRow(sourceId, row));
  const newest = (sourceId: number): StoredReading | undefined => {
    const newestMs = rows.lastBefore(sourceId, Number.MAX_SAFE_INTEGER);
    return newestMs === undefined ? undefined : between(sourceId, newestMs, newestMs + 1).at(-1);
  };

  return {
    keep: (reading) => {
      const kept = keep(reading);
      if (kept !== 'repeat' && edge.isBehind(reading.deviceMs)) edge.touch(reading.sourceId, reading.deviceMs);
      return kept;
    },
    revise: (sourceId, deviceMs, flags) => {
      if (edge.isBehind(deviceMs)) edge.touch(sourceId, deviceMs);
      return revise.run(flags, sourceId, deviceMs).changes === 1 || late.revise(sourceId, deviceMs, flags);
    },
    between,
    newest,
    since: (fromMs) => sinceInOrderOfTime(sources.all(), fromMs, newest, between),
  };
};

const STRETCH_MS = 600_000;

/** Ten minutes at a time, so that two days of a large hatchery never lie in memory together. */
function* sinceInOrderOfTime(
  sources: readonly number[],
  fromMs: number,
  newest: Readings['newest'],
  between: Readings['between'],
): Generator<StoredReading> {
  const endMs = Math.max(fromMs, ...sources.map((id) => (newest(id)?.deviceMs ?? fromMs) + 1));
  for (let at = fromMs; at < endMs; at += STRETCH_MS) {
    const stretch = sources.flatMap((id) => between(id, at, Math.min(at + STRETCH_MS, endMs)));
    yield* stretch.sort((a, b) => a.deviceMs - b.deviceMs || a.sourceId - b.sourceId || a.variant - b.variant);
  }
}

/** A row of one source as a reading. */
export const readingFromRow = (sourceId: number, row: WholeRow): StoredReading => ({
  sourceId,
  deviceMs: row.device_ms,
  variant: row.variant,
  arrivalMs: row.device_ms + row.delay_ms,
  raw: row.raw,
  flags: row.flags,
  ...(row.refused_ms === null ? {} : { refusedMs: row.refused_ms }),
});
