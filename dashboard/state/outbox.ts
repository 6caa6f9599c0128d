import { type Signal, signal } from '@preact/signals';
import { makeUlid } from '../../rules/log/ulid.js';
import type { Problem } from '../../rules/wire/api.js';
import type { LogLine, NewEntry } from '../../rules/wire/log.js';
import type { Api } from '../link/api.js';
import type { Queue, Waiting } from '../link/queue.js';

/** What became of an entry when it was written: it is there, it waits for the connection, or it was refused. */
export type Sent =
  | { readonly kind: 'kept'; readonly line: LogLine }
  | { readonly kind: 'waiting' }
  | { readonly kind: 'refused'; readonly problem: Problem };

export type Outbox = {
  /** Written here, in the order of writing; refused ones stay until a person mends or drops them. */
  readonly waiting: Signal<readonly Waiting[]>;
  readonly write: (entry: NewEntry, photos?: readonly Blob[]) => Promise<Sent>;
  /** Sends what waits, in order, one after the other. */
  readonly flush: () => Promise<void>;
  readonly drop: (number: number) => Promise<void>;
};

export type OutboxParts = {
  readonly queue: Queue;
  readonly api: Pick<Api, 'write' | 'sendPhoto'>;
  /** Only one page of this browser sends at a time. */
  readonly alone: (work: () => Promise<void>) => Promise<void>;
  /** How long a person looks at a form that is being sent; then it counts as waiting. */
  readonly patience: () => Promise<void>;
};

/** A gateway that is away, busy or asks to sign in first: the entry keeps its place. Anything else is about the entry. */
const isAway = ({ status }: Problem): boolean => status === 0 || status === 401 || status === 429 || status >= 500;

/** Entries on their way: kept on the device first, then sent in order, each once, with the time at which it was written. */
export const buildOutbox = (parts: OutboxParts): Outbox => {
  const { queue, api, alone } = parts;
  const waiting = signal<readonly Waiting[]>([]);
  const results = new Map<number, Sent>();
  const look = async (): Promise<readonly Waiting[]> => {
    waiting.value = await queue.all();
    return waiting.value;
  };

  /** Whether the next may follow. */
  const sendOne = async (one: Waiting): Promise<boolean> => {
    const photos: string[] = [...(one.entry.photos ?? [])];
    for (const photo of one.photos) {
      const sent = await api.sendPhoto(photo);
      if (!sent.ok) return settle(one, sent.fault);
      photos.push(sent.value.id);
    }
    const entry = photos.length === 0 ? one.entry : { ...one.entry, photos };
    const written = await api.write(entry);
    if (!written.ok) return settle(one, written.fault);
    results.set(one.number, { kind: 'kept', line: written.value });
    await queue.drop(one.number);
    return true;
  };
  const settle = async (one: Waiting, problem: Problem): Promise<boolean> => {
    if (isAway(problem)) return false;
    results.set(one.number, { kind: 'refused', problem });
    await queue.put({ ...one, refused: problem });
    return true;
  };

  const flush = (): Promise<void> =>
    alone(async () => {
      for (const one of await look()) {
        if (one.refused !== undefined) continue;
        if (!(await sendOne(one))) break;
      }
      await look();
    });

  return {
    waiting,
    flush,
    write: async (entry, photos = []) => {
      const { number } = await queue.add(entry, photos);
      await Promise.race([flush(), parts.patience()]);
      const sent = results.get(number) ?? { kind: 'waiting' };
      results.delete(number);
      // Whoever has the form before them mends it there: nothing is left lying in the queue.
      if (sent.kind === 'refused') await queue.drop(number).then(look);
      return sent;
    },
    drop: async (number) => {
      await queue.drop(number);
      await look();
    },
  };
};

/** A new name for an entry, from the device's own randomness. */
export const newUlid = (atMs: number): string => makeUlid(atMs, crypto.getRandomValues(new Uint8Array(10)));
