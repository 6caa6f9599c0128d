import { once } from 'node:events';
import { setTimeout as pause } from 'node:timers/promises';
import { parentPort, workerData } from 'node:worker_threads';
import BetterSqlite3 from 'better-sqlite3';
import type { HistoryTrouble } from '../../rules/words/history.js';
import type { Confirmed } from '../journal/due.js';
import { prepareNextDue } from './due-batch.js';
import type { InfluxAddress } from './influx-address.js';
import { openInfluxWriter } from './influx-write.js';
import { preparePoints } from './point.js';
import { sendAll } from './send.js';
import { keepSending, type Pace } from './spool-round.js';

/** Reads the journal and writes to the database on a thread of its own; what was confirmed is kept by the journal's owner. */
export type SpoolSettings = {
  readonly journalPath: string;
  readonly address: InfluxAddress;
  readonly pace: Pace;
};

/** What the worker says; to `confirmed` it wants an answer before it goes on. */
export type SpoolNews =
  | { readonly kind: 'confirmed'; readonly confirmed: Confirmed }
  | { readonly kind: 'standing'; readonly trouble?: HistoryTrouble };

const serve = async (
  port: NonNullable<typeof parentPort>,
  { journalPath, address, pace }: SpoolSettings,
): Promise<never> => {
  const journal = new BetterSqlite3(journalPath, { readonly: true, fileMustExist: true });
  const say = (news: SpoolNews): void => port.postMessage(news);
  const parts = {
    write: openInfluxWriter(address, pace.limitMs),
    points: preparePoints(journal, address.site),
    atMost: pace.atMost,
  };
  return keepSending({
    pace,
    next: prepareNextDue(journal, pace.atMost),
    send: ({ readings }) => sendAll(readings, parts),
    settle: async (confirmed) => {
      const settled = once(port, 'message');
      say({ kind: 'confirmed', confirmed });
      await settled;
    },
    report: (trouble) => say({ kind: 'standing', ...(trouble === undefined ? {} : { trouble }) }),
    pause,
    random: Math.random,
  });
};

if (parentPort !== null) void serve(parentPort, workerData as SpoolSettings);
