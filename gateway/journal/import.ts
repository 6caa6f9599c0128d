import type { Database } from './database.js';
import type { Due } from './due.js';
import type { KeptReading, Landed } from './landing.js';
import type { Readings } from './readings.js';
import type { Rollups } from './rollups.js';

export type Imported = Pick<Landed, 'variants' | 'repeats'> & { readonly kept: number };

/**
 * Keeps readings that are history already: no alarm, no tail, thousands to a transaction. Fastest when they come source
 * by source in order of time; right in any order. The hours that lie before the newest one are computed at once.
 */
export type ImportHistory = (readings: Iterable<KeptReading>) => Imported;

const A_TRANSACTION = 5_000;
const HOURS_AT_ONCE = 200;

export type ImportParts = {
  readonly database: Database;
  readonly readings: Pick<Readings, 'keep'>;
  readonly rollups: Rollups;
  readonly due: Pick<Due, 'mark'>;
};

export const buildImportHistory = ({ database, readings, rollups, due }: ImportParts): ImportHistory => {
  const keepAll = database.transaction((group: readonly KeptReading[]): Imported => {
    const count = { kept: 0, repeat: 0, variant: 0 };
    for (const reading of group) {
      const kept = readings.keep(reading);
      count[kept] += 1;
      if (kept !== 'repeat') rollups.mark(reading.sourceId, reading.deviceMs);
    }
    due.mark(group);
    return { kept: count.kept, repeats: count.repeat, variants: count.variant };
  });

  const keepGroup = (group: readonly KeptReading[]): Imported => {
    try {
      return keepAll.immediate(group);
    } catch (error) {
      rollups.reload();
      throw error;
    }
  };

  return (all) => {
    let total: Imported = { kept: 0, repeats: 0, variants: 0 };
    let newestMs = Number.NEGATIVE_INFINITY;
    for (const group of groupsOf(all, A_TRANSACTION)) {
      total = sumOf(total, keepGroup(group));
      newestMs = group.reduce((newest, { deviceMs }) => Math.max(newest, deviceMs), newestMs);
    }
    if (newestMs > Number.NEGATIVE_INFINITY) computeAllBefore(rollups, newestMs);
    return total;
  };
};

const computeAllBefore = (rollups: Rollups, beforeMs: number): void => {
  while (rollups.computeClosed(beforeMs, HOURS_AT_ONCE) > 0);
};

function* groupsOf<T>(all: Iterable<T>, size: number): Generator<readonly T[]> {
  let group: T[] = [];
  for (const one of all) {
    group.push(one);
    if (group.length < size) continue;
    yield group;
    group = [];
  }
  if (group.length > 0) yield group;
}

const sumOf = (a: Imported, b: Imported): Imported => ({
  kept: a.kept + b.kept,
  repeats: a.repeats + b.repeats,
  variants: a.variants + b.variants,
});
