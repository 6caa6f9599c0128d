import type { Use } from './use.js';

export const HOUR_MS = 3_600_000;
export const hourOf = (atMs: number): number => Math.floor(atMs / HOUR_MS);

/** One source's hour in raw units: sum, least and greatest over the usable readings, the others counted by reason. */
export type Hour = {
  readonly usable: number;
  readonly outOfWater: number;
  readonly notPlausible: number;
  readonly faultValue: number;
  readonly sum: number;
  readonly least: number | null;
  readonly greatest: number | null;
  /** Device times of the first and last reading, usable or not. */
  readonly firstMs: number;
  readonly lastMs: number;
};

export type JudgedRaw = { readonly deviceMs: number; readonly raw: number; readonly use: Use };

/** The hour of readings given in key order, so that the same rows always give the same sum; undefined without a reading. */
export const hourFrom = (readings: Iterable<JudgedRaw>): Hour | undefined => {
  const count = { usable: 0, 'out-of-water': 0, 'not-plausible': 0, 'fault-value': 0 };
  let sum = 0;
  let least = Number.POSITIVE_INFINITY;
  let greatest = Number.NEGATIVE_INFINITY;
  let firstMs: number | undefined;
  let lastMs = 0;
  for (const { deviceMs, raw, use } of readings) {
    count[use] += 1;
    firstMs ??= deviceMs;
    lastMs = deviceMs;
    if (use !== 'usable') continue;
    sum += raw;
    least = Math.min(least, raw);
    greatest = Math.max(greatest, raw);
  }
  if (firstMs === undefined) return undefined;
  return {
    usable: count.usable,
    outOfWater: count['out-of-water'],
    notPlausible: count['not-plausible'],
    faultValue: count['fault-value'],
    sum,
    least: count.usable === 0 ? null : least,
    greatest: count.usable === 0 ? null : greatest,
    firstMs,
    lastMs,
  };
};
