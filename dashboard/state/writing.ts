import { type Signal, signal } from '@preact/signals';
import { useMemo } from 'preact/hooks';
import { type EntryKind, type FieldsOf, parseEntry } from '../../rules/log/entry.js';
import type { NewEntry } from '../../rules/wire/log.js';
import { entryFaultSentence } from '../../rules/words/entry-fault.js';
import { useOutbox } from './live-outbox.js';
import { newUlid } from './outbox.js';
import { useRoom } from './room.js';

/** What is wrong with a form, where (RFC 6901) and in words. */
export type FormSaid = { readonly pointer: string; readonly detail: string };

/** How it stands with what was written last on this form. */
export type WriteState =
  | { readonly kind: 'open' }
  | { readonly kind: 'sending' }
  | { readonly kind: 'kept' | 'waiting'; readonly entryId: string }
  | { readonly kind: 'refused'; readonly detail: string };

export type Draft<K extends EntryKind = EntryKind> = {
  readonly kind: K;
  readonly placeId?: string | undefined;
  readonly fields: unknown;
  /** When it happened; without it, now. */
  readonly atMs?: number;
  readonly corrects?: string | undefined;
  readonly note?: string;
  readonly photos?: readonly Blob[];
};

export type Writer = {
  readonly state: Signal<WriteState>;
  readonly faults: Signal<readonly FormSaid[]>;
  /** True when it is kept, or waits on this device. */
  readonly write: (draft: Draft) => Promise<boolean>;
};

/** Initials of whoever holds a shared tablet; asked once and kept until they are changed. */
export const initials = signal('');

/** Writing entries from this page: read by the rules first, then through the outbox. */
export const useWriter = (): Writer => {
  const room = useRoom();
  const outbox = useOutbox();
  return useMemo(() => {
    const state = signal<WriteState>({ kind: 'open' });
    const faults = signal<readonly FormSaid[]>([]);
    const write = async (draft: Draft): Promise<boolean> => {
      const nowMs = Math.round(room.nowMs.value);
      const reader = room.reader.value;
      const entry = entryOf(draft, nowMs);
      const parsed = parseEntry(entry, 'me');
      if (!parsed.ok) {
        faults.value = parsed.fault.map((one) => ({ pointer: one.pointer, detail: entryFaultSentence(one, reader) }));
        state.value = { kind: 'refused', detail: faults.value[0]?.detail ?? '' };
        return false;
      }
      faults.value = [];
      state.value = { kind: 'sending' };
      const sent = await outbox.write(entry, draft.photos);
      if (sent.kind === 'refused') {
        faults.value = sent.problem.faults ?? [];
        state.value = { kind: 'refused', detail: sent.problem.detail };
        return false;
      }
      state.value = { kind: sent.kind, entryId: entry.id };
      return true;
    };
    return { state, faults, write };
  }, [room, outbox]);
};

const entryOf = ({ kind, placeId, fields, atMs, corrects, note }: Draft, nowMs: number): NewEntry => {
  const who = initials.value.trim();
  // Read by the rules right after: what stands in it is what somebody typed.
  return {
    id: newUlid(nowMs),
    atMs: atMs ?? nowMs,
    kind,
    fields: fields as FieldsOf<EntryKind>,
    ...(placeId === undefined || placeId === '' ? {} : { placeId }),
    ...(corrects === undefined ? {} : { corrects }),
    ...(note === undefined || note.trim() === '' ? {} : { note: note.trim() }),
    ...(who === '' ? {} : { initials: who }),
  } as NewEntry;
};
