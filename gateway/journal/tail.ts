import type { Database } from './database.js';
import type { KeptReading } from './landing.js';

/**
 * The readings that landed after the last snapshot, in landing order. One row a group: the readings packed as six 64-bit
 * floats each, so that start-up need not look for them among all others.
 */
export type Tail = {
  append(landing: number, readings: readonly KeptReading[]): void;
  since(landing: number): Iterable<KeptReading>;
  /** Forgets what a snapshot taken at this landing already holds. */
  forgetUpTo(landing: number): void;
  newestLanding(): number;
};

type Row = { readonly landing: number; readonly readings: Buffer };

export const buildTail = (database: Database): Tail => {
  const append = database.prepare<[number, Buffer]>('INSERT INTO tail (landing, readings) VALUES (?, ?)');
  const next = database.prepare<[number], Row>(
    'SELECT landing, readings FROM tail WHERE landing > ? ORDER BY landing LIMIT 1',
  );
  const forget = database.prepare<[number]>('DELETE FROM tail WHERE landing <= ?');
  const newest = database.prepare<[], number>('SELECT coalesce(max(landing), 0) FROM tail').pluck();
  return {
    append: (landing, readings) => {
      append.run(landing, packReadings(readings));
    },
    // Row by row instead of an open cursor: the caller may land while it reads.
    *since(landing) {
      for (let row = next.get(landing); row !== undefined; row = next.get(row.landing)) {
        yield* unpackReadings(row.readings);
      }
    },
    forgetUpTo: (landing) => {
      forget.run(landing);
    },
    newestLanding: () => newest.get() ?? 0,
  };
};

const FIELDS = 6;
const FIELD_BYTES = 8;

/** NaN stands for "no refused stamp". */
export const packReadings = (readings: readonly KeptReading[]): Buffer => {
  const bytes = Buffer.allocUnsafe(readings.length * FIELDS * FIELD_BYTES);
  let at = 0;
  for (const { sourceId, deviceMs, arrivalMs, raw, flags, refusedMs } of readings) {
    at = bytes.writeDoubleLE(sourceId, at);
    at = bytes.writeDoubleLE(deviceMs, at);
    at = bytes.writeDoubleLE(arrivalMs, at);
    at = bytes.writeDoubleLE(raw, at);
    at = bytes.writeDoubleLE(flags, at);
    at = bytes.writeDoubleLE(refusedMs ?? Number.NaN, at);
  }
  return bytes;
};

/** The inverse of `packReadings`. */
export function* unpackReadings(bytes: Buffer): Generator<KeptReading> {
  for (let at = 0; at < bytes.length; at += FIELDS * FIELD_BYTES) {
    const field = (n: number): number => bytes.readDoubleLE(at + n * FIELD_BYTES);
    const refusedMs = field(5);
    yield {
      sourceId: field(0),
      deviceMs: field(1),
      arrivalMs: field(2),
      raw: field(3),
      flags: field(4),
      ...(Number.isNaN(refusedMs) ? {} : { refusedMs }),
    };
  }
}
