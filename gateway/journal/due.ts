import type { Database } from './database.js';
import { buildMeta, type Meta } from './meta.js';
import { DAY_MS, dayOf } from './sealed-days.js';

/** A reading by where and when; all its variants. */
export type DueReading = { readonly sourceId: number; readonly deviceMs: number };

export type RefusedReading = DueReading & { readonly variant: number; readonly because: string };

/** What the history database has answered for: everything up to a row, or a day as it was marked when it was read. */
export type Confirmed = {
  readonly upTo?: number;
  readonly day?: { readonly sourceId: number; readonly day: number; readonly mark: number };
  readonly refused: readonly RefusedReading[];
};

/** How far behind a history database is: readings one by one, and a source's whole days. */
export type DueStanding = {
  readonly readings: number;
  readonly days: number;
  readonly refused: number;
  readonly confirmedMs?: number;
};

/** What is due to a history database elsewhere. Without one nothing is marked, and everything answers that nothing is due. */
export type Due = {
  /** Says, inside the transaction that keeps or changes them, that readings are due. */
  mark(readings: readonly DueReading[]): void;
  markDay(sourceId: number, day: number): void;
  /**
   * From now on this database is written to; undefined: none. Another one than before is due everything that is here;
   * what the same one has refused is due once more.
   */
  follow(target: string | undefined): void;
  isFollowed(): boolean;
  /** Whether the database has answered for everything of the days before. Looks no further than it must. */
  isAllConfirmedBefore(day: number): boolean;
  confirm(confirmed: Confirmed, nowMs: number): void;
  standing(): DueStanding;
  /** Once a second: a backlog that became long is kept by its days. */
  fold(): void;
};

/** In `meta`: the database that is followed, and when it last confirmed anything. */
const TARGET = 'history-target';
const CONFIRMED_MS = 'history-confirmed-ms';

/** A quarter of an hour of a large hatchery, a few MB. A month without the database is then no more than a list of days. */
const ROWS_KEPT = 20_000;
const ROWS_A_FOLD = 1_000;

export const buildDue = (database: Database): Due => {
  const meta = buildMeta(database);
  const rows = prepareRows(database);
  let followed = meta.get(TARGET);

  const fold = database.transaction((upTo: number) => {
    for (const packed of rows.upTo.all(upTo)) {
      for (const { sourceId, deviceMs } of unpackDue(packed)) rows.markDay.run(sourceId, dayOf(deviceMs));
    }
    rows.forget.run(upTo);
  });
  return {
    mark: (readings) => {
      if (followed === undefined || readings.length === 0) return;
      rows.append.run(
        readings.reduce((oldest, { deviceMs }) => Math.min(oldest, dayOf(deviceMs)), Number.POSITIVE_INFINITY),
        packDue(readings),
      );
    },
    markDay: (sourceId, day) => {
      if (followed !== undefined) rows.markDay.run(sourceId, day);
    },
    follow: (target) => {
      follow(database, meta, target);
      followed = target;
    },
    isFollowed: () => followed !== undefined,
    isAllConfirmedBefore: (day) =>
      rows.anyDay.get() === undefined && (rows.oldestDay.get() ?? Number.POSITIVE_INFINITY) >= day,
    confirm: buildConfirm(database, meta, rows),
    standing: () => {
      const confirmedMs = meta.get(CONFIRMED_MS);
      const [readings = 0, days = 0, refused = 0] = rows.standing.get() ?? [];
      return { readings, days, refused, ...(confirmedMs === undefined ? {} : { confirmedMs: Number(confirmedMs) }) };
    },
    fold: () => {
      const [oldest, newest] = rows.ends.get() ?? [];
      if (oldest === undefined || newest === undefined || newest - oldest < ROWS_KEPT) return;
      fold.immediate(oldest + ROWS_A_FOLD - 1);
    },
  };
};

const MARK_DAY = 'INSERT INTO due_day (source_id, day, mark)';
const AGAIN = 'ON CONFLICT DO UPDATE SET mark = mark + 1';

const prepareRows = (database: Database) => ({
  append: database.prepare<[number, Buffer]>('INSERT INTO due (oldest_day, readings) VALUES (?, ?)'),
  upTo: database.prepare<[number], Buffer>('SELECT readings FROM due WHERE number <= ?').pluck(),
  forget: database.prepare<[number]>('DELETE FROM due WHERE number <= ?'),
  ends: database.prepare<[], [number?, number?]>('SELECT min(number), max(number) FROM due HAVING count(*) > 0').raw(),
  markDay: database.prepare<[number, number]>(`${MARK_DAY} VALUES (?, ?, 1) ${AGAIN}`),
  settleDay: database.prepare<[number, number, number]>(
    'DELETE FROM due_day WHERE source_id = ? AND day = ? AND mark = ?',
  ),
  anyDay: database.prepare<[], number>('SELECT 1 FROM due_day LIMIT 1').pluck(),
  oldestDay: database.prepare<[], number | null>('SELECT min(oldest_day) FROM due').pluck(),
  refuse: database.prepare<[number, number, number, number, string]>(
    'INSERT OR REPLACE INTO refused_reading (source_id, device_ms, variant, at_ms, because) VALUES (?, ?, ?, ?, ?)',
  ),
  standing: database
    .prepare<[], [readings: number, days: number, refused: number]>(
      `SELECT (SELECT coalesce(sum(length(readings)), 0) / ${PAIR_BYTES} FROM due),
        (SELECT count(*) FROM due_day), (SELECT count(*) FROM refused_reading)`,
    )
    .raw(),
});

const buildConfirm = (database: Database, meta: Meta, rows: ReturnType<typeof prepareRows>): Due['confirm'] => {
  const confirm = database.transaction(({ upTo, day, refused }: Confirmed, nowMs: number) => {
    if (upTo !== undefined) rows.forget.run(upTo);
    if (day !== undefined) rows.settleDay.run(day.sourceId, day.day, day.mark);
    for (const { sourceId, deviceMs, variant, because } of refused)
      rows.refuse.run(sourceId, deviceMs, variant, nowMs, because);
    meta.set(CONFIRMED_MS, String(nowMs));
  });
  return confirm.immediate;
};

const follow = (database: Database, meta: Meta, target: string | undefined): void => {
  const before = meta.get(TARGET);
  const every = (source: string): string => `${MARK_DAY} ${source} ${AGAIN}`;
  const refusedAgain = `${every(`SELECT DISTINCT source_id, device_ms / ${DAY_MS}, 1 FROM refused_reading WHERE true`)};
    DELETE FROM refused_reading;`;
  const everything = `${every(`SELECT source_id, day, 1 FROM sealed_day WHERE true`)};
    ${every(`SELECT DISTINCT source_id, device_ms / ${DAY_MS}, 1 FROM reading WHERE true`)};`;
  database.transaction(() => {
    if (target === before) {
      database.exec(refusedAgain);
      return;
    }
    database.exec('DELETE FROM due; DELETE FROM due_day; DELETE FROM refused_reading;');
    meta.remove(TARGET);
    meta.remove(CONFIRMED_MS);
    if (target === undefined) return;
    database.exec(everything);
    meta.set(TARGET, target);
  })();
};

const FIELD_BYTES = 8;
const PAIR_BYTES = 2 * FIELD_BYTES;

const packDue = (readings: readonly DueReading[]): Buffer => {
  const bytes = Buffer.allocUnsafe(readings.length * PAIR_BYTES);
  let at = 0;
  for (const { sourceId, deviceMs } of readings) at = bytes.writeDoubleLE(deviceMs, bytes.writeDoubleLE(sourceId, at));
  return bytes;
};

/** The readings that a row of `due` names. */
export function* unpackDue(bytes: Buffer): Generator<DueReading> {
  for (let at = 0; at < bytes.length; at += PAIR_BYTES) {
    yield { sourceId: bytes.readDoubleLE(at), deviceMs: bytes.readDoubleLE(at + FIELD_BYTES) };
  }
}
