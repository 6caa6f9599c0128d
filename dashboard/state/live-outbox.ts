import { createContext } from 'preact';
import { useContext } from 'preact/hooks';
import { api } from '../link/api.js';
import { forgetfulQueue, openQueue, type Queue } from '../link/queue.js';
import { buildOutbox, type Outbox } from './outbox.js';

const AGAIN_MS = 10_000;
const PATIENCE_MS = 4_000;

/** One at a time over all pages of this browser where it has locks, else within this page. */
const buildAlone = (): ((work: () => Promise<void>) => Promise<void>) => {
  let last: Promise<void> = Promise.resolve();
  return (work) => {
    if (navigator.locks !== undefined) return navigator.locks.request('nightwater-log', work).then(() => undefined);
    last = last.then(work, work);
    return last;
  };
};

const queueHere = (): Queue => {
  try {
    return openQueue();
  } catch {
    return forgetfulQueue();
  }
};

const patience = (): Promise<void> => new Promise((resolve) => setTimeout(resolve, PATIENCE_MS));

/** The outbox of this device, which tries again when the connection is back, and every ten seconds while something waits. */
export const openOutbox = (): { readonly outbox: Outbox; readonly close: () => void } => {
  const outbox = buildOutbox({ queue: queueHere(), api, alone: buildAlone(), patience });
  const again = (): void => void outbox.flush();
  const timer = setInterval(() => {
    if (outbox.waiting.value.some(({ refused }) => refused === undefined)) again();
  }, AGAIN_MS);
  addEventListener('online', again);
  again();
  return {
    outbox,
    close: () => {
      clearInterval(timer);
      removeEventListener('online', again);
    },
  };
};

export const OutboxContext = createContext<Outbox | undefined>(undefined);
export const useOutbox = (): Outbox => {
  const outbox = useContext(OutboxContext);
  if (outbox === undefined) throw new Error('Something was written outside of a room.');
  return outbox;
};
