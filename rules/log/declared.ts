import type { DeclaredWork } from '../work.js';
import { type Entry, isKind } from './entry.js';

const MINUTE_MS = 60_000;

type Works = Map<string, DeclaredWork>;

/**
 * Declared work from the ruling entries: it begins with its entry, ends by itself, and may be made longer or ended by a
 * later one. Oldest first; one that was taken back was never declared. `nameOf` gives the name under which a corrected
 * entry was first written, so that a work keeps its name.
 */
export const declaredWork = (
  entries: readonly Entry[],
  nameOf: (entryId: string) => string = (id) => id,
): readonly DeclaredWork[] => {
  const work: Works = new Map();
  for (const entry of entries) take(work, entry, nameOf(entry.id));
  return [...work.values()];
};

const take = (work: Works, entry: Entry, id: string): void => {
  const { placeId, atMs, by } = entry;
  if (isKind(entry, 'work-longer')) return longer(work, entry.fields.workId, entry.fields.untilMs);
  if (isKind(entry, 'work-end')) return end(work, entry.fields.workId, atMs);
  if (isKind(entry, 'run-end')) return end(work, entry.fields.runId, atMs);
  if (placeId === undefined) return;
  if (isKind(entry, 'work')) {
    const { work: kind, minutes } = entry.fields;
    work.set(id, { id, kind, placeId, by, fromMs: atMs, untilMs: atMs + minutes * MINUTE_MS });
  }
  if (isKind(entry, 'run-plan')) {
    const { latestEndMs: untilMs, ambientC, riseC, hotSupplyId, hotSupplyC } = entry.fields;
    const run = {
      peakC: ambientC + riseC,
      ...(hotSupplyId === undefined ? {} : { hotSupplyId }),
      ...(hotSupplyC === undefined ? {} : { hotSupplyC }),
    };
    work.set(id, { id, kind: 'spawning-run', placeId, by, fromMs: atMs, untilMs, run });
  }
  // The sheet is written when the animals are in water again: the drain-down that it tells of is over.
  if (isKind(entry, 'drain-down')) {
    for (const one of work.values()) {
      if (one.kind === 'drain-down' && one.placeId === placeId && one.fromMs <= atMs) end(work, one.id, atMs);
    }
  }
};

const longer = (work: Works, id: string, untilMs: number): void => {
  const before = work.get(id);
  if (before !== undefined) work.set(id, { ...before, untilMs: Math.max(before.untilMs, untilMs) });
};

const end = (work: Works, id: string, atMs: number): void => {
  const before = work.get(id);
  if (before === undefined || before.endedMs !== undefined) return;
  work.set(id, { ...before, endedMs: Math.max(before.fromMs, atMs) });
};

/** What the engine still has to know: running now, or over time and not ended by anybody. */
export const openWork = (work: readonly DeclaredWork[]): readonly DeclaredWork[] =>
  work.filter(({ endedMs }) => endedMs === undefined);
