import type { Task } from '../work.js';
import { type Entry, isKind } from './entry.js';

/** When work that comes back was last done, per place. */
export type LastDone = ReadonlyMap<string, { readonly [task in Task]?: number }>;

/** What an entry counts as done. A drain-down changes the water; with a count in it, it is a count too. */
export const tasksDone = (entry: Entry): readonly Task[] => {
  switch (entry.kind) {
    case 'feeding':
      return ['feeding'];
    case 'water-change':
      return ['water-change'];
    case 'count':
      return ['count'];
    case 'calibration':
      return ['probe-service'];
    case 'cleaning':
      return CLEANING[entry.fields.what] ?? [];
    case 'drain-down':
      return [
        'water-change',
        ...(entry.fields.count === undefined ? [] : (['count'] as const)),
        ...(entry.fields.fedL === undefined ? [] : (['feeding'] as const)),
      ];
    // The first filling: what comes back is counted from here.
    case 'brought-in':
    case 'eggs-stocked':
      return ['water-change', 'count'];
    default:
      return [];
  }
};

const CLEANING: { readonly [what in Entry<'cleaning'>['fields']['what']]?: readonly Task[] } = {
  bed: ['bed-cleaning'],
  probe: ['probe-service'],
};

export const lastDone = (entries: readonly Entry[]): LastDone => {
  const done = new Map<string, { [task in Task]?: number }>();
  const mark = (placeId: string, tasks: readonly Task[], atMs: number): void => {
    if (tasks.length === 0) return;
    const before = done.get(placeId) ?? {};
    const after = Object.fromEntries(tasks.map((task) => [task, Math.max(before[task] ?? 0, atMs)]));
    done.set(placeId, { ...before, ...after });
  };
  for (const entry of entries) {
    if (entry.placeId !== undefined) mark(entry.placeId, tasksDone(entry), entry.atMs);
    // Where the animals went there is fresh water, too.
    if (isKind(entry, 'drain-down')) {
      const to = [entry.fields.placeId, ...(entry.fields.to ?? []).map(({ placeId }) => placeId)];
      for (const placeId of to) if (placeId !== undefined) mark(placeId, ['water-change'], entry.atMs);
    }
    if (isKind(entry, 'move')) mark(entry.fields.to, ['water-change'], entry.atMs);
  }
  return done;
};
