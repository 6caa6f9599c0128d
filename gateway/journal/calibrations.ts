import type { Calibration } from '../../rules/hatchery.js';
import type { Change } from '../../rules/wire/feed.js';
import type { Database } from './database.js';
import type { Sequence } from './sequence.js';

/** Dated offsets and slopes; raw readings never change. Of two for the same time the one recorded later rules. */
export type Calibrations = {
  add(calibration: Calibration, by: string, nowMs: number): Change;
  /** By source and time; each rules until the source's next. */
  list(): readonly Calibration[];
};

type Row = {
  readonly source_id: number;
  readonly from_ms: number;
  readonly slope: number;
  readonly offset: number;
  readonly by: string | null;
};

export const buildCalibrations = (database: Database, sequence: Sequence): Calibrations => {
  const insert = database.prepare<[number, number, number, number, number, number, string]>(
    'INSERT INTO calibration (sequence, source_id, from_ms, slope, offset, recorded_ms, by) VALUES (?, ?, ?, ?, ?, ?, ?)',
  );
  return {
    add: ({ sourceId, fromMs, slope, offset }, by, nowMs) => {
      const number = sequence.take((next) => insert.run(next, sourceId, fromMs, slope, offset, nowMs, by));
      return { sequence: number, atMs: nowMs, kind: 'settings', what: `calibration/${sourceId}`, by };
    },
    list: prepareCalibrations(database),
  };
};

/** Also for the history's own connection. */
export const prepareCalibrations = (database: Database): (() => readonly Calibration[]) => {
  const all = database.prepare<[], Row>(
    `SELECT source_id, from_ms, slope, offset, by FROM calibration
     WHERE sequence IN (SELECT max(sequence) FROM calibration GROUP BY source_id, from_ms) ORDER BY source_id, from_ms`,
  );
  return () =>
    all.all().map(({ source_id, from_ms, slope, offset, by }) => ({
      sourceId: source_id,
      fromMs: from_ms,
      slope,
      offset,
      ...(by === null ? {} : { by }),
    }));
};
