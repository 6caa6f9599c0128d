import type { Entry, EntryKind, FieldsOf } from '../../rules/log/entry.js';
import { makeUlid } from '../../rules/log/ulid.js';
import type { Event } from '../event.js';
import { seedFrom, uniformAt } from '../random.js';
import { PEOPLE } from './saltmarsh-lane.js';

const MINUTE_MS = 60_000;
const DAY_MS = 86_400_000;

/** What one piece of work puts into the log, and what it does to the water. */
export type Page = { readonly entries: readonly Entry[]; readonly events: readonly Event[] };

export type DemoPen = {
  /** A clock time, UTC, so many days before the day of `nowMs`. */
  readonly at: (daysAgo: number, clock: string) => number;
  readonly write: <K extends EntryKind>(
    kind: K,
    atMs: number,
    placeId: string | undefined,
    fields: FieldsOf<K>,
  ) => string;
  readonly happens: (event: Event) => void;
  /** What is written in `work` belongs together: it is in the log whole, or, where its end lies ahead, not at all. */
  readonly together: (work: () => void) => void;
  /** In order of time. */
  readonly pages: () => Page;
};

/** The invented people's pen up to a moment. The same seed and moment give the same log. */
export const demoPen = (seed: number, nowMs: number): DemoPen => {
  const midnightMs = Math.floor(nowMs / DAY_MS) * DAY_MS;
  const kept: { entries: Entry[]; events: Event[] } = { entries: [], events: [] };
  let open = { entries: [] as Entry[], events: [] as Event[] };
  let written = 0;
  const close = (): void => {
    if (open.entries.every(({ atMs }) => atMs < nowMs)) {
      kept.entries.push(...open.entries);
      kept.events.push(...open.events);
    }
    open = { entries: [], events: [] };
  };
  return {
    at: (daysAgo, clock) => {
      const [hour = 0, minute = 0] = clock.split(':').map(Number);
      return midnightMs - daysAgo * DAY_MS + (hour * 60 + minute) * MINUTE_MS;
    },
    write: (kind, atMs, placeId, fields) => {
      written += 1;
      const chance = new Uint8Array(10);
      const view = new DataView(chance.buffer);
      view.setUint32(2, seedFrom(seed, kind));
      view.setUint32(6, written);
      const id = makeUlid(Math.round(atMs), chance);
      const by = PEOPLE[Math.floor(uniformAt(seedFrom(seed, 'who'), Math.floor(atMs / (DAY_MS / 3))) * PEOPLE.length)];
      const place = placeId === undefined ? {} : { placeId };
      // Each kind is called with its own fields, which the compiler checks at the call and loses here.
      open.entries.push({ id, atMs: Math.round(atMs), kind, by: by ?? PEOPLE[0], fields, ...place } as Entry);
      return id;
    },
    happens: (event) => {
      open.events.push(event);
    },
    together: (work) => {
      work();
      close();
    },
    pages: () => {
      close();
      const entries = kept.entries.toSorted((a, b) => a.atMs - b.atMs || (a.id < b.id ? -1 : 1));
      return { entries, events: kept.events };
    },
  };
};
