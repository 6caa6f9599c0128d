import type { Task } from '../work.js';
import { type Entry, isKind } from './entry.js';

/** When work that comes back was last done, per place. */
export type LastDone = ReadonlyMap<string, { readonly [task in Task]?: number }>;
export type TaskDone = { readonly placeId: string; readonly task: Task };

const CLEANING: { readonly [what in Entry<'cleaning'>['fields']['what']]?: readonly Task[] } = {
  bed: ['bed-cleaning'],
  probe: ['probe-service'],
};

const tasksOf = (entry: Entry): readonly Task[] => {
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
    case 'run-plan':
      return ['water-change', 'count', 'feeding'];
    default:
      return [];
  }
};

/** Where animals are put there is fresh water, and they have just been seen. */
export const goalsOf = (entry: Entry): readonly string[] => {
  if (isKind(entry, 'move', 'pool')) return [entry.fields.to];
  if (isKind(entry, 'split')) return entry.fields.to.map(({ placeId }) => placeId);
  if (!isKind(entry, 'drain-down')) return [];
  const { placeId, to = [] } = entry.fields;
  return [...(placeId === undefined ? [] : [placeId]), ...to.map((part) => part.placeId)];
};

/** What an entry counts as done, and where. A phase of a run changes the water of its tray. */
export const tasksDone = (entry: Entry, entries: readonly Entry[]): readonly TaskDone[] => {
  const here =
    entry.placeId === undefined ? [] : tasksOf(entry).map((task) => ({ placeId: entry.placeId ?? '', task }));
  const there = goalsOf(entry).flatMap((placeId) =>
    (['water-change', 'count', 'feeding'] as const).map((task) => ({ placeId, task })),
  );
  const tray = isKind(entry, 'run-phase') ? entries.find(({ id }) => id === entry.fields.runId)?.placeId : undefined;
  return [...here, ...there, ...(tray === undefined ? [] : [{ placeId: tray, task: 'water-change' as const }])];
};

export const lastDone = (entries: readonly Entry[]): LastDone => {
  const done = new Map<string, { readonly [task in Task]?: number }>();
  for (const entry of entries) {
    for (const { placeId, task } of tasksDone(entry, entries)) {
      const before = done.get(placeId) ?? {};
      done.set(placeId, { ...before, [task]: Math.max(before[task] ?? 0, entry.atMs) });
    }
  }
  return done;
};
