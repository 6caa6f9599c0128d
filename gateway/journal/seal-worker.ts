import { parentPort, workerData } from 'node:worker_threads';
import BetterSqlite3 from 'better-sqlite3';
import { type SealedJob, type SealJob, seal } from './seal.js';

/** Sealed, or that there was nothing, or why it could not be done. */
export type SealAnswer = { readonly sealed: SealedJob | undefined } | { readonly because: string };

/** The connection is opened for each job: an idle one would keep the journal's owner from being the last to close. */
const answerTo = (job: SealJob): SealAnswer => {
  try {
    const database = new BetterSqlite3(String(workerData), { readonly: true, fileMustExist: true });
    try {
      return { sealed: seal(database, job) };
    } finally {
      database.close();
    }
  } catch (error) {
    return { because: error instanceof Error ? error.message : String(error) };
  }
};

parentPort?.on('message', (job: SealJob) => parentPort?.postMessage(answerTo(job)));
