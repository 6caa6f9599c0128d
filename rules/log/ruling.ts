import type { Entry } from './entry.js';

/** A record as it reads with every correction in place. */
export type Ruling = {
  /** What counts, in the order in which it happened. */
  readonly entries: readonly Entry[];
  /** By the id of the first entry: the correction, or the striking, that now stands for it. */
  readonly standsFor: ReadonlyMap<string, Entry>;
};

const byTime = (a: Entry, b: Entry): number => a.atMs - b.atMs || (a.id < b.id ? -1 : a.id > b.id ? 1 : 0);

/**
 * Each correction names the version that its writer saw. Of two that name the same one the later written stands (the
 * gateway refuses the second, so that a person sees it; a copy put together from elsewhere may still hold both). The
 * answer depends on what was written, not on the order in which it arrived.
 */
export const rulingEntries = (written: readonly Entry[]): Ruling => {
  const known = new Map(written.map((entry) => [entry.id, entry]));
  const next = new Map<string, Entry>();
  for (const entry of known.values()) {
    const { corrects } = entry;
    if (corrects === undefined || !known.has(corrects)) continue;
    const other = next.get(corrects);
    if (other === undefined || other.id < entry.id) next.set(corrects, entry);
  }
  const standsFor = new Map<string, Entry>();
  const entries: Entry[] = [];
  for (const entry of known.values()) {
    // A correction of what this record does not hold stands by itself.
    if (entry.corrects !== undefined && known.has(entry.corrects)) continue;
    const last = lastOf(entry, next);
    if (last !== entry) standsFor.set(entry.id, last);
    if (last.kind !== 'struck') entries.push(last);
  }
  return { entries: entries.sort(byTime), standsFor };
};

/** A later id never points back, so the way has an end; a circle made by hand is cut. */
const lastOf = (entry: Entry, next: ReadonlyMap<string, Entry>): Entry => {
  const seen = new Set([entry.id]);
  let last = entry;
  for (let after = next.get(last.id); after !== undefined && !seen.has(after.id); after = next.get(after.id)) {
    seen.add(after.id);
    last = after;
  }
  return last;
};

/** The version that a person corrects when they correct this entry now. */
export const versionOf = (ruling: Ruling, entryId: string): string => ruling.standsFor.get(entryId)?.id ?? entryId;
