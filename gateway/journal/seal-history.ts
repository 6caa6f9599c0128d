import type { Database } from './database.js';
import type { Due } from './due.js';
import { hourFrom, hourOf, type JudgedRaw } from './hour.js';
import { preparePutSealed, sealedRow } from './put-sealed.js';
import type { Rollups } from './rollups.js';
import type { SealEdge } from './seal-edge.js';
import type { DayColumns } from './sealed/day.js';
import { DAY_MS, dayOf } from './sealed-days.js';
import type { StoredRows } from './stored-rows.js';
import type { UseOfFlags } from './use.js';

/** One source's readings of one UTC day: in order of device time and variant, none twice. */
export type SourceDay = {
  readonly sourceId: number;
  readonly columns: DayColumns;
  /** The same as `sealDay` makes of them, where another thread has done so already. */
  readonly body?: Uint8Array;
};

/**
 * Keeps whole days of history as they will lie in the end, sealed and with their hours, without ever making rows of them:
 * for years at once. Only for days of which nothing is there yet. Returns the readings kept.
 */
export type SealHistory = (days: Iterable<SourceDay>) => number;

export type SealHistoryParts = {
  readonly database: Database;
  readonly rows: StoredRows;
  readonly rollups: Pick<Rollups, 'write'>;
  readonly edge: SealEdge;
  readonly due: Pick<Due, 'markDay'>;
  readonly useOfFlags: UseOfFlags;
};

const DAYS_A_TRANSACTION = 32;

export const buildSealHistory = ({ database, rows, rollups, edge, due, useOfFlags }: SealHistoryParts): SealHistory => {
  const put = preparePutSealed(database);
  const keep = ({ sourceId, columns, body }: SourceDay): number => {
    const day = dayOf(columns.deviceMs.at(0) ?? 0);
    const refused = refusal(columns, day, rows.firstFrom(sourceId, day * DAY_MS));
    if (refused !== undefined) throw new Error(`Source ${sourceId}, day ${day}: ${refused}.`);
    edge.moveTo((day + 1) * DAY_MS);
    put(sealedRow(sourceId, day, columns, body));
    due.markDay(sourceId, day);
    for (const [hour, readings] of hoursOf(columns, useOfFlags)) {
      const whole = hourFrom(readings);
      if (whole !== undefined) rollups.write(sourceId, hour, whole);
    }
    return columns.deviceMs.length;
  };
  const keepAll = database.transaction((days: readonly SourceDay[]) => days.reduce((sum, day) => sum + keep(day), 0));
  return (days) => {
    let kept = 0;
    let waiting: SourceDay[] = [];
    for (const day of days) {
      waiting.push(day);
      if (waiting.length < DAYS_A_TRANSACTION) continue;
      kept += keepAll.immediate(waiting);
      waiting = [];
    }
    return kept + keepAll.immediate(waiting);
  };
};

const refusal = ({ deviceMs }: DayColumns, day: number, firstThereMs: number | undefined): string | undefined => {
  if (firstThereMs !== undefined && dayOf(firstThereMs) === day) return 'some of it is there already';
  if (deviceMs.length === 0 || dayOf(deviceMs.at(-1) ?? 0) !== day) return 'the readings are not of one day';
  return deviceMs.every((atMs, n) => atMs >= (deviceMs[n - 1] ?? 0)) ? undefined : 'the readings are not in order';
};

const hoursOf = (
  { deviceMs, raw, flags }: DayColumns,
  useOfFlags: UseOfFlags,
): ReadonlyMap<number, readonly JudgedRaw[]> => {
  const hours = new Map<number, JudgedRaw[]>();
  for (let n = 0; n < deviceMs.length; n += 1) {
    const atMs = deviceMs[n] ?? 0;
    const judged = { deviceMs: atMs, raw: raw[n] ?? 0, use: useOfFlags(flags[n] ?? 0) };
    const hour = hours.get(hourOf(atMs));
    if (hour === undefined) hours.set(hourOf(atMs), [judged]);
    else hour.push(judged);
  }
  return hours;
};
