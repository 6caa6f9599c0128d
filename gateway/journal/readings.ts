import type { Database } from './database.js';
import type { KeptReading } from './landing.js';
import { flagsOfVariant } from './use.js';

/** A reading as it lies in the journal: with its variant. */
export type StoredReading = KeptReading & { readonly variant: number };

export type Kept = 'kept' | 'repeat' | 'variant';

type Row = {
  readonly source_id: number;
  readonly device_ms: number;
  readonly variant: number;
  readonly delay_ms: number;
  readonly raw: number;
  readonly flags: number;
  readonly refused_ms: number | null;
};

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

const COLUMNS = 'source_id, device_ms, variant, delay_ms, raw, flags, refused_ms';

export const buildReadings = (database: Database): Readings => {
  const insert = database.prepare<[number, number, number, number, number, number, number | null]>(
    `INSERT INTO reading (${COLUMNS}) VALUES (?, ?, ?, ?, ?, ?, ?) ON CONFLICT DO NOTHING`,
  );
  const sameMoment = database.prepare<[number, number], Pick<Row, 'raw'>>(
    'SELECT raw FROM reading WHERE source_id = ? AND device_ms = ? ORDER BY variant',
  );
  const revise = database.prepare<[number, number, number]>(
    'UPDATE reading SET flags = ? WHERE source_id = ? AND device_ms = ? AND variant = 0',
  );
  const between = database.prepare<[number, number, number], Row>(
    `SELECT ${COLUMNS} FROM reading WHERE source_id = ? AND device_ms >= ? AND device_ms < ? ORDER BY device_ms, variant`,
  );
  const newest = database.prepare<[number], Row>(
    `SELECT ${COLUMNS} FROM reading WHERE source_id = ? ORDER BY device_ms DESC, variant DESC LIMIT 1`,
  );
  const sources = database.prepare<[], number>('SELECT id FROM source ORDER BY id').pluck();

  const keepBeside = (reading: KeptReading): Kept => {
    const { sourceId, deviceMs, arrivalMs, raw, flags, refusedMs } = reading;
    const present = sameMoment.all(sourceId, deviceMs);
    if (present.some((row) => row.raw === raw)) return 'repeat';
    const delayMs = arrivalMs - deviceMs;
    insert.run(sourceId, deviceMs, present.length, delayMs, raw, flagsOfVariant(flags), refusedMs ?? null);
    return 'variant';
  };

  return {
    keep: (reading) => {
      const { sourceId, deviceMs, arrivalMs, raw, flags, refusedMs } = reading;
      const { changes } = insert.run(sourceId, deviceMs, 0, arrivalMs - deviceMs, raw, flags, refusedMs ?? null);
      return changes === 1 ? 'kept' : keepBeside(reading);
    },
    revise: (sourceId, deviceMs, flags) => revise.run(flags, sourceId, deviceMs).changes === 1,
    between: (sourceId, fromMs, toMs) => between.all(sourceId, fromMs, toMs).map(readingFromRow),
    newest: (sourceId) => {
      const row = newest.get(sourceId);
      return row === undefined ? undefined : readingFromRow(row);
    },
    since: (fromMs) => sinceInOrderOfTime(sources.all(), fromMs, newest, between),
  };
};

type Newest = { get(sourceId: number): Row | undefined };
type Between = { all(sourceId: number, fromMs: number, toMs: number): Row[] };

const STRETCH_MS = 600_000;

/** Ten minutes at a time, so that two days of a large hatchery never lie in memory together. */
function* sinceInOrderOfTime(
  sources: readonly number[],
  fromMs: number,
  newest: Newest,
  between: Between,
): Generator<StoredReading> {
  const endMs = Math.max(fromMs, ...sources.map((id) => (newest.get(id)?.device_ms ?? fromMs) + 1));
  for (let at = fromMs; at < endMs; at += STRETCH_MS) {
    const stretch = sources.flatMap((id) => between.all(id, at, Math.min(at + STRETCH_MS, endMs)).map(readingFromRow));
    yield* stretch.sort((a, b) => a.deviceMs - b.deviceMs || a.sourceId - b.sourceId || a.variant - b.variant);
  }
}

const readingFromRow = (row: Row): StoredReading => ({
  sourceId: row.source_id,
  deviceMs: row.device_ms,
  variant: row.variant,
  arrivalMs: row.device_ms + row.delay_ms,
  raw: row.raw,
  flags: row.flags,
  ...(row.refused_ms === null ? {} : { refusedMs: row.refused_ms }),
});
