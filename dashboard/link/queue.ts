import type { Problem } from '../../rules/wire/api.js';
import type { NewEntry } from '../../rules/wire/log.js';

/** An entry that was written here and has not reached the gateway, or was refused by it. */
export type Waiting = {
  /** Given by the store: the order of writing. */
  readonly number: number;
  readonly entry: NewEntry;
  /** Sent before the entry, which then names them. */
  readonly photos: readonly Blob[];
  readonly refused?: Problem;
};

/** What is kept on this device until the gateway has it; it outlives the page and a dead battery. */
export type Queue = {
  all(): Promise<readonly Waiting[]>;
  add(entry: NewEntry, photos: readonly Blob[]): Promise<Waiting>;
  put(waiting: Waiting): Promise<void>;
  drop(number: number): Promise<void>;
};

const STORE = 'entries';

const settled = <T>(request: IDBRequest<T>): Promise<T> =>
  new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error ?? new Error('The store of this device refused.'));
  });

const open = async (): Promise<IDBDatabase> => {
  const request = indexedDB.open('nightwater-log', 1);
  request.onupgradeneeded = () => request.result.createObjectStore(STORE, { keyPath: 'number', autoIncrement: true });
  return settled(request);
};

/** Resolves when it is on the disk of the device, not before. */
const committed = (transaction: IDBTransaction): Promise<void> =>
  new Promise((resolve, reject) => {
    transaction.oncomplete = () => resolve();
    transaction.onabort = () => reject(transaction.error ?? new Error('The store of this device refused.'));
  });

export const openQueue = (): Queue => {
  const database = open();
  const writing = async <T>(deed: (store: IDBObjectStore) => IDBRequest<T>): Promise<T> => {
    const transaction = (await database).transaction(STORE, 'readwrite', { durability: 'strict' });
    const [result] = await Promise.all([settled(deed(transaction.objectStore(STORE))), committed(transaction)]);
    return result;
  };
  return {
    // The key of the store ascends with the writing.
    all: async () => settled<Waiting[]>((await database).transaction(STORE).objectStore(STORE).getAll()),
    add: async (entry, photos) => {
      const number = Number(await writing((store) => store.add({ entry, photos })));
      return { number, entry, photos };
    },
    put: async (waiting) => void (await writing((store) => store.put(waiting))),
    drop: async (number) => void (await writing((store) => store.delete(number))),
  };
};

/** For a browser that keeps nothing: better sent at once than not written at all. */
export const forgetfulQueue = (): Queue => {
  const kept = new Map<number, Waiting>();
  let last = 0;
  return {
    all: async () => [...kept.values()],
    add: async (entry, photos) => {
      last += 1;
      const waiting = { number: last, entry, photos };
      kept.set(last, waiting);
      return waiting;
    },
    put: async (waiting) => void kept.set(waiting.number, waiting),
    drop: async (number) => void kept.delete(number),
  };
};
