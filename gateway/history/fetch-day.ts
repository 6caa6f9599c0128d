import { fault, ok, type Result } from '../../rules/result.js';
import type { HistoryTrouble } from '../../rules/words/history.js';
import type { DayColumns } from '../journal/sealed/day.js';
import { DAY_MS } from '../journal/sealed-days.js';
import { type InfluxAddress, tagOf } from './influx-address.js';
import { askInflux } from './influx-query.js';
import type { GoneDay } from './older-days.js';
import { MEASUREMENT } from './point.js';

/** One reading as the database gives it. */
type Found = {
  readonly deviceMs: number;
  readonly variant: number;
  readonly arrivalMs: number;
  readonly raw: number;
  readonly flags: number;
  readonly refusedMs: number;
};

export type FetchParts = {
  readonly address: InfluxAddress;
  readonly keyOf: (sourceId: number) => string;
  /** Whether a reading of the day is still here, or here again. */
  readonly isHere: (sourceId: number, day: number) => (deviceMs: number, variant: number) => boolean;
  readonly limitMs: number;
  readonly closing: AbortSignal;
};

/**
 * Asks the database for a source's whole UTC day, whatever the source was called then. Fewer readings than it once
 * confirmed are a fault: a part must not be taken for the whole.
 */
export const fetchDay = async (
  { address, keyOf, isHere, limitMs, closing }: FetchParts,
  { sourceId, day, readings }: GoneDay,
): Promise<Result<DayColumns, HistoryTrouble>> => {
  const question = `SELECT raw, flags, arrival, refused, variant FROM ${MEASUREMENT}
    WHERE site = '${tagOf(address.site)}' AND source = '${tagOf(keyOf(sourceId))}'
    AND time >= ${day * DAY_MS}ms AND time < ${(day + 1) * DAY_MS}ms`;
  const answer = await askInflux(address, question, AbortSignal.any([closing, AbortSignal.timeout(limitMs)]));
  if (!answer.ok) return answer;
  const found = new Map<string, Found>();
  for (const { columns, values } of answer.value)
    for (const row of values) {
      const one = foundFrom(columns, row);
      found.set(`${one.deviceMs} ${one.variant}`, one);
    }
  if (found.size < readings)
    return fault({ code: 'incomplete', detail: `${found.size} of ${readings} readings of ${dayWords(day)}` });
  const isStillHere = isHere(sourceId, day);
  const gone = [...found.values()].filter(({ deviceMs, variant }) => !isStillHere(deviceMs, variant));
  return ok(columnsOf(gone.sort((a, b) => a.deviceMs - b.deviceMs || a.variant - b.variant)));
};

const dayWords = (day: number): string => new Date(day * DAY_MS).toISOString().slice(0, 10);

const foundFrom = (columns: readonly string[], row: readonly unknown[]): Found => {
  const at = (name: string): unknown => row[columns.indexOf(name)];
  const refused = at('refused');
  return {
    deviceMs: Number(at('time')),
    variant: Number(at('variant')),
    arrivalMs: Number(at('arrival')),
    raw: Number(at('raw')),
    flags: Number(at('flags')),
    refusedMs: typeof refused === 'number' ? refused : Number.NaN,
  };
};

const columnsOf = (found: readonly Found[]): DayColumns => ({
  deviceMs: Float64Array.from(found, ({ deviceMs }) => deviceMs),
  variant: Float64Array.from(found, ({ variant }) => variant),
  delayMs: Float64Array.from(found, ({ arrivalMs, deviceMs }) => arrivalMs - deviceMs),
  raw: Float64Array.from(found, ({ raw }) => raw),
  flags: Float64Array.from(found, ({ flags }) => flags),
  refusedMs: Float64Array.from(found, ({ refusedMs }) => refusedMs),
});
