import { join } from 'node:path';
import { Worker } from 'node:worker_threads';
import { parseChannelId } from '../../rules/channel.js';
import { HOUR_MS } from '../journal/hour.js';
import type { Journal } from '../journal/journal.js';
import { workerUrlBeside } from '../journal/worker-url.js';
import { bucketMsFor } from './buckets.js';
import type { History } from './history.js';
import type { InfluxAddress } from './influx-address.js';
import type { Answered, AnswerTo, Asked, Question } from './question.js';
import { readingsFor } from './review.js';
import type { WorkerSettings } from './worker.js';

export type SqliteHistoryParts = {
  readonly journal: Pick<Journal, 'folder' | 'path'>;
  readonly now: () => number;
  readonly workerUrl?: URL;
  /** The database that has what is no longer here. */
  readonly address?: InfluxAddress;
};

/** The history in the journal's own file, united with what a history database elsewhere has of older days. */
export const openSqliteHistory = ({
  journal,
  now,
  address,
  workerUrl = workerUrlBeside(import.meta.url, 'history', 'worker'),
}: SqliteHistoryParts): History => {
  const { ask, end } = buildAsker(workerUrl, {
    journalPath: journal.path,
    memoryPath: join(journal.folder, 'computed.sqlite'),
    ...(address === undefined ? {} : { address }),
  });
  return {
    readings: async (channelId, fromMs, toMs, points) => {
      await computeAhead(ask, channelId, fromMs, toMs, points);
      return ask({ ask: 'readings', channelId, fromMs, toMs, points, nowMs: now() });
    },
    trails: (channelIds, fromMs, toMs, stepMs) => ask({ ask: 'trails', channelIds, fromMs, toMs, stepMs }),
    async *rows(channelId, fromMs, toMs) {
      let at: number | undefined = fromMs;
      while (at !== undefined && at < toMs) {
        const page: AnswerTo['rows'] = await ask({ ask: 'rows', channelId, fromMs: at, toMs });
        if (page.rows.length > 0) yield page.rows;
        at = page.continueMs;
      }
    },
    review: async (asked) => {
      const { coarse } = readingsFor(asked);
      if (coarse !== undefined) await computeAhead(ask, asked.channelId, coarse.fromMs, coarse.toMs, coarse.points);
      return ask({ ask: 'review', ...asked });
    },
    close: end,
  };
};

const SLICE_MS = 240 * HOUR_MS;

/**
 * A computed channel's hours are computed when they are first asked for, which took 4 s for a year where this was
 * measured. Ten days at a time, other questions find their turn in between.
 */
const computeAhead = async (
  ask: Asker['ask'],
  channelId: string,
  fromMs: number,
  toMs: number,
  points: number,
): Promise<void> => {
  const isLong = toMs - fromMs > SLICE_MS && bucketMsFor({ fromMs, toMs }, points) >= HOUR_MS;
  if (!isLong || parseChannelId(channelId)?.computed !== true) return;
  const endMs = Math.floor(toMs / HOUR_MS) * HOUR_MS;
  for (let at = Math.ceil(fromMs / HOUR_MS) * HOUR_MS; at < endMs; at += SLICE_MS) {
    const sliceEndMs = Math.min(at + SLICE_MS, endMs);
    await ask({ ask: 'trails', channelIds: [channelId], fromMs: at, toMs: sliceEndMs, stepMs: HOUR_MS });
  }
};

type Waiting = { readonly take: (answered: Answered) => void; readonly fail: (error: Error) => void };

type Asker = {
  ask<Q extends Question>(question: Q): Promise<AnswerTo[Q['ask']]>;
  end(): Promise<void>;
};

/** A worker that died takes its questions with it, as failures; the next question starts another. */
const buildAsker = (url: URL, settings: WorkerSettings): Asker => {
  const waiting = new Map<number, Waiting>();
  let asked = 0;
  let worker: Worker | undefined;

  const failAll = (error: Error): void => {
    worker = undefined;
    for (const { fail } of waiting.values()) fail(error);
    waiting.clear();
  };
  const started = (): Worker => {
    const fresh = new Worker(url, { workerData: settings });
    fresh.on('message', (answered: Answered) => {
      waiting.get(answered.number)?.take(answered);
      waiting.delete(answered.number);
    });
    fresh.on('error', failAll);
    fresh.on('exit', () => {
      if (worker === fresh) failAll(new Error('The history worker has ended.'));
    });
    return fresh;
  };

  const ask = <Q extends Question>(question: Q): Promise<AnswerTo[Q['ask']]> =>
    new Promise((resolve, reject) => {
      asked += 1;
      worker ??= started();
      waiting.set(asked, {
        take: (answered) => {
          if ('bug' in answered) reject(new Error(answered.bug));
          else resolve(answered.answer as AnswerTo[Q['ask']]);
        },
        fail: reject,
      });
      worker.postMessage({ number: asked, question } satisfies Asked);
    });

  return {
    ask,
    end: async () => {
      const last = worker;
      if (last === undefined) return;
      const ended = new Promise<void>((resolve) => last.once('exit', () => resolve()));
      await ask({ ask: 'close' });
      worker = undefined;
      await ended;
    },
  };
};
