import { join } from 'node:path';
import { Worker } from 'node:worker_threads';
import type { Journal } from '../journal/journal.js';
import type { History } from './history.js';
import type { Answered, AnswerTo, Asked, Question } from './question.js';
import type { WorkerSettings } from './worker.js';

export type SqliteHistoryParts = {
  readonly journal: Pick<Journal, 'folder' | 'path'>;
  readonly now: () => number;
  readonly workerUrl?: URL;
};

/** Worker threads are started from JavaScript: run from TypeScript, the one that `npm run build` made is taken. */
export const workerUrlBeside = (moduleUrl: string): URL =>
  moduleUrl.endsWith('.ts')
    ? new URL('../../dist/gateway/history/worker.js', moduleUrl)
    : new URL('./worker.js', moduleUrl);

/** The history in the journal's own file. */
export const openSqliteHistory = ({
  journal,
  now,
  workerUrl = workerUrlBeside(import.meta.url),
}: SqliteHistoryParts): History => {
  const { ask, end } = buildAsker(workerUrl, {
    journalPath: journal.path,
    memoryPath: join(journal.folder, 'computed.sqlite'),
  });
  return {
    readings: (channelId, fromMs, toMs, points) =>
      ask({ ask: 'readings', channelId, fromMs, toMs, points, nowMs: now() }),
    trails: (channelIds, fromMs, toMs, stepMs) => ask({ ask: 'trails', channelIds, fromMs, toMs, stepMs }),
    async *rows(channelId, fromMs, toMs) {
      let at: number | undefined = fromMs;
      while (at !== undefined && at < toMs) {
        const page: AnswerTo['rows'] = await ask({ ask: 'rows', channelId, fromMs: at, toMs });
        if (page.rows.length > 0) yield page.rows;
        at = page.continueMs;
      }
    },
    close: end,
  };
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
