import { once } from 'node:events';
import { Worker } from 'node:worker_threads';
import { workerUrlBeside } from './worker-url.js';

/** Reads a whole journal file on a thread of its own, and says what is damaged first; undefined when nothing is. */
export const readThrough = async (
  path: string,
  workerUrl: URL = workerUrlBeside(import.meta.url, 'journal', 'damage-worker'),
): Promise<string | undefined> => {
  const worker = new Worker(workerUrl, { workerData: path });
  // An error in the worker rejects this too.
  const [damage] = await once(worker, 'message');
  return damage === undefined ? undefined : String(damage);
};
