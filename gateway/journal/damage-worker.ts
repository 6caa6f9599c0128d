import { parentPort, workerData } from 'node:worker_threads';
import BetterSqlite3 from 'better-sqlite3';
import { firstDamageAnywhere } from './damage.js';
import { isDamage, worldlyCode } from './database.js';

const damageOf = (path: string): string | undefined => {
  const database = new BetterSqlite3(path, { readonly: true, fileMustExist: true });
  try {
    return firstDamageAnywhere(database);
  } catch (error) {
    if (!isDamage(error)) throw error;
    return worldlyCode(error);
  } finally {
    database.close();
  }
};

parentPort?.postMessage(damageOf(String(workerData)));
