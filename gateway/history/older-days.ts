import type { Database } from '../journal/database.js';
import type { TimeSpan } from '../journal/gateway-runs.js';
import { type DayColumns, openDay, sealDay } from '../journal/sealed/day.js';
import { dayOf, type SealedDay } from '../journal/sealed-days.js';

/** A source's day that is no longer here, because the history database has it. */
export type GoneDay = {
  readonly sourceId: number;
  readonly day: number;
  readonly times: number;
  readonly readings: number;
};

/** Days that were fetched back from the history database, sealed as they were here. Lost, they are fetched again. */
export type OlderDays = {
  /** Days with readings in the span that are gone from here, in order ... */
  gone(sourceId: number, span: TimeSpan): readonly GoneDay[];
  /** ... and those of them that were not fetched, or of which more is gone now. */
  missing(sourceId: number, span: TimeSpan): readonly GoneDay[];
  /** Keeps a day as it was fetched, without what of it is still here. */
  keep(gone: GoneDay, columns: DayColumns): void;
  /** Fetched days that are whole, in order; numbers are below zero. */
  within(sourceId: number, span: TimeSpan): readonly SealedDay[];
  columns(seal: number): DayColumns;
};

type Row = readonly [seal: number, day: number, times: number, readings: number, firstMs: number, lastMs: number];

/** A day of a source at 10 s is some 13 kB. */
const DAYS_KEPT = 4_000;

/** `memory` is the file of the history's worker. */
export const prepareOlderDays = (journal: Database, memory: Database): OlderDays => {
  memory.exec(`CREATE TABLE IF NOT EXISTS older_day (
    seal INTEGER PRIMARY KEY AUTOINCREMENT, source_id INTEGER NOT NULL, day INTEGER NOT NULL, times INTEGER NOT NULL,
    readings INTEGER NOT NULL, first_ms INTEGER NOT NULL, last_ms INTEGER NOT NULL, body BLOB NOT NULL,
    UNIQUE (source_id, day))`);
  const ofSpan = 'WHERE source_id = ? AND day BETWEEN ? AND ? ORDER BY day';
  const gone = journal
    .prepare<[number, number, number], [day: number, times: number, readings: number]>(
      `SELECT day, times, readings FROM gone_day ${ofSpan}`,
    )
    .raw();
  const fetched = memory
    .prepare<[number, number, number], Row>(
      `SELECT seal, day, times, readings, first_ms, last_ms FROM older_day ${ofSpan}`,
    )
    .raw();
  const body = memory.prepare<[number], Buffer>('SELECT body FROM older_day WHERE seal = ?').pluck();
  const put = memory.prepare<[number, number, number, number, number, number, Uint8Array]>(
    `INSERT OR REPLACE INTO older_day (source_id, day, times, readings, first_ms, last_ms, body)
     VALUES (?, ?, ?, ?, ?, ?, ?)`,
  );
  const forget = memory.prepare<[]>(
    `DELETE FROM older_day WHERE seal <= (SELECT max(seal) FROM older_day) - ${DAYS_KEPT}`,
  );

  const goneIn = (sourceId: number, { fromMs, toMs }: TimeSpan): readonly GoneDay[] =>
    fromMs >= toMs
      ? []
      : gone
          .all(sourceId, dayOf(fromMs), dayOf(toMs - 1))
          .map(([day, times, readings]) => ({ sourceId, day, times, readings }));
  /** Of the gone days those that were fetched since the last of them went. */
  const fetchedOf = (sourceId: number, days: readonly GoneDay[]): ReadonlyMap<number, Row> => {
    const [first, last] = [days.at(0), days.at(-1)];
    if (first === undefined || last === undefined) return new Map();
    const times = new Map(days.map((one) => [one.day, one.times]));
    const rows = fetched.all(sourceId, first.day, last.day).filter(([, day, at]) => times.get(day) === at);
    return new Map(rows.map((row) => [row[1], row]));
  };
  return {
    gone: goneIn,
    missing: (sourceId, span) => {
      const days = goneIn(sourceId, span);
      const there = fetchedOf(sourceId, days);
      return days.filter(({ day }) => !there.has(day));
    },
    keep: ({ sourceId, day, times }, columns) => {
      const { deviceMs } = columns;
      put.run(sourceId, day, times, deviceMs.length, deviceMs.at(0) ?? 0, deviceMs.at(-1) ?? 0, sealDay(columns));
      forget.run();
    },
    within: (sourceId, span) =>
      [...fetchedOf(sourceId, goneIn(sourceId, span)).values()]
        .map(([seal, day, , readings, firstMs, lastMs]) => ({ seal: -seal, day, readings, firstMs, lastMs }))
        .filter(({ readings, firstMs, lastMs }) => readings > 0 && firstMs < span.toMs && lastMs >= span.fromMs),
    columns: (seal) => {
      const bytes = body.get(-seal);
      if (bytes === undefined) throw new Error(`There is no fetched day with the number ${-seal}.`);
      return openDay(bytes);
    },
  };
};
