import type { Place } from '../place.js';
import { upkeepEveryH } from '../stage/upkeep.js';
import { TASKS, type Task } from '../work.js';
import { goalsOf, type LastDone } from './done.js';
import { type Entry, isKind } from './entry.js';

const HOUR_MS = 3_600_000;

/** Work of a place that is due. */
export type Overdue = {
  readonly placeId: string;
  readonly task: Task;
  /** Undefined: never yet, as far as the log knows. */
  readonly lastMs?: number;
  readonly dueMs: number;
  readonly everyH: number;
};

/** What is due in the hatchery, longest overdue first. Work that was never logged is due from the start of the stage. */
export const overdueWork = (places: readonly Place[], done: LastDone, nowMs: number): readonly Overdue[] =>
  places
    .filter(({ kind, stage }) => kind === 'tank' && stage !== undefined && stage !== 'empty')
    .flatMap((place) =>
      TASKS.flatMap((task): readonly Overdue[] => {
        const every = upkeepEveryH(place, task);
        if (every === undefined) return [];
        const lastMs = done.get(place.id)?.[task];
        const fromMs = lastMs ?? place.stageSinceMs;
        if (fromMs === undefined) return [];
        const dueMs = fromMs + every * HOUR_MS;
        if (dueMs > nowMs) return [];
        return [{ placeId: place.id, task, ...(lastMs === undefined ? {} : { lastMs }), dueMs, everyH: every }];
      }),
    )
    .sort((a, b) => a.dueMs - b.dueMs);

/** Every tank was last seen by somebody then: the last round that did not leave it out, or an entry about it. */
export const lastSeen = (places: readonly Place[], entries: readonly Entry[]): ReadonlyMap<string, number> => {
  const seen = new Map<string, number>();
  for (const entry of entries) {
    if (entry.placeId !== undefined && !isByItself(entry)) seen.set(entry.placeId, entry.atMs);
    for (const placeId of goalsOf(entry)) seen.set(placeId, entry.atMs);
    if (!isKind(entry, 'round')) continue;
    const left = new Set(entry.fields.except.map(({ placeId }) => placeId));
    for (const { id } of places) if (!left.has(id)) seen.set(id, entry.atMs);
  }
  return seen;
};

/** A phase that the trace showed was written by nobody's eyes. */
const isByItself = (entry: Entry): boolean => isKind(entry, 'run-phase') && entry.fields.recognised === true;

/** A person who says nothing more is taken to have left after so long. */
export const ON_SITE_MS = 12 * HOUR_MS;

export type OnSite = { readonly who: string; readonly sinceMs: number; readonly lastMs: number };

/** Who is on site: whoever did a round or said so, until they say otherwise or half a day has passed. */
export const onSite = (entries: readonly Entry[], nowMs: number): readonly OnSite[] => {
  const people = new Map<string, OnSite>();
  for (const entry of entries) {
    if (entry.atMs > nowMs) break;
    const who = entry.initials ?? entry.by;
    if (isKind(entry, 'on-site') && !entry.fields.here) people.delete(who);
    else if (isKind(entry, 'on-site', 'round')) {
      const before = people.get(who);
      const isStill = before !== undefined && entry.atMs - before.lastMs < ON_SITE_MS;
      people.set(who, { who, sinceMs: isStill ? before.sinceMs : entry.atMs, lastMs: entry.atMs });
    }
  }
  return [...people.values()].filter(({ lastMs }) => nowMs - lastMs < ON_SITE_MS);
};
