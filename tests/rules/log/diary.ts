import type { Entry, EntryKind, FieldsOf } from '../../../rules/log/entry.js';
import { makeUlid } from '../../../rules/log/ulid.js';
import { NOON_MS } from '../../support/hatchery.js';

/** A pen that gives every entry its own id, a minute after the one before. */
export type Diary = {
  readonly entries: readonly Entry[];
  readonly write: <K extends EntryKind>(
    kind: K,
    placeId: string | undefined,
    fields: FieldsOf<K>,
    more?: Partial<Pick<Entry, 'atMs' | 'corrects' | 'by' | 'initials'>>,
  ) => Entry;
};

export const diary = (startMs = NOON_MS): Diary => {
  const entries: Entry[] = [];
  return {
    entries,
    write: (kind, placeId, fields, more = {}) => {
      const chance = new Uint8Array(10);
      new DataView(chance.buffer).setUint32(6, entries.length + 1);
      const atMs = startMs + entries.length * 60_000;
      const entry = {
        id: makeUlid(atMs, chance),
        atMs,
        kind,
        by: 'Ines',
        fields,
        ...(placeId === undefined ? {} : { placeId }),
        ...more,
      } as Entry;
      entries.push(entry);
      return entry;
    },
  };
};

export const LARVAE = { speciesGroup: 'warm-temperate-burrowing-clam', stage: 'larva' } as const;
export const begun = (batchId: string, animals: number) => ({
  ...LARVAE,
  batchId,
  count: { animals },
  origin: 'Wrack Cove wild bed',
});
