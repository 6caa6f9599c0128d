import { Worker } from 'node:worker_threads';
import type { Database } from './database.js';
import { preparePutSealed } from './put-sealed.js';
import type { SealedJob, SealJob } from './seal.js';
import type { SealEdge } from './seal-edge.js';
import type { SealAnswer } from './seal-worker.js';
import { DAY_MS, dayOf } from './sealed-days.js';
import { workerUrlBeside } from './worker-url.js';

/**
 * A day is sealed when it ended this long ago: what a board kept while its link was down, and the 48 hours that a start
 * without a snapshot reads again, are then mostly rows still.
 */
export const SEAL_AFTER_MS = 48 * 3_600_000;

/**
 * Rows a job. Of a day of 8,640, reading and sealing took 40 ms on a busy machine and happens on a thread of its own; what
 * is left for the journal's owner, deleting them and keeping the sealed day, took 2 ms. The worker does not write itself:
 * there stays one writer, who never waits for another's lock, and a backup that is being made need not begin again.
 */
const ROWS_A_JOB = 10_000;
const JOBS_A_BEAT = 4;
/** After a round without work: readings for sealed days wait so long to be merged, so that they are merged together. */
const REST_MS = 3_600_000;

export type SealFailure = { readonly sourceId: number; readonly day: number; readonly because: string };

export type Sealing = {
  /** Begins or goes on with what is due; returns at once. */
  beat(nowMs: number): void;
  /** Seals everything that is due, however much it is; the days sealed. */
  all(nowMs: number): Promise<number>;
  /** Days that could not be sealed since the start: they stay rows. */
  failures(): readonly SealFailure[];
  close(): void;
};

export type SealingParts = {
  readonly database: Database;
  readonly edge: SealEdge;
  readonly workerUrl?: URL;
};

export const buildSealing = (parts: SealingParts): Sealing => {
  const { database, edge } = parts;
  const worker = buildSealWorker(database.name, parts.workerUrl);
  const commit = prepareCommit(database, edge);
  const failures: SealFailure[] = [];
  const due = prepareDue(database, failures);
  let restUntilMs = Number.NEGATIVE_INFINITY;
  let going: Promise<number> | undefined;

  const sealNext = async (beforeMs: number): Promise<boolean> => {
    const next = due(beforeMs);
    if (next === undefined) return false;
    edge.moveTo(beforeMs);
    edge.takeTouched(next.sourceId, next.day);
    const answer = await worker.seal({ ...next, atMost: ROWS_A_JOB });
    const because = 'because' in answer ? answer.because : commitOrSayWhy(answer.sealed);
    if (because !== undefined) failures.push({ ...next, because });
    return true;
  };
  /** A full disk, say, is no reason to stop the watch: the rows are all still there. */
  const commitOrSayWhy = (sealed: SealedJob | undefined): string | undefined => {
    if (sealed === undefined || !database.open) return undefined;
    try {
      commit(sealed);
      return undefined;
    } catch (error) {
      return error instanceof Error ? error.message : String(error);
    }
  };
  const sealSome = async (nowMs: number, atMost: number): Promise<number> => {
    const beforeMs = dayOf(nowMs - SEAL_AFTER_MS) * DAY_MS;
    for (let done = 0; done < atMost; done += 1) {
      if (!database.open || !(await sealNext(beforeMs))) return done;
    }
    return atMost;
  };
  const begin = (nowMs: number, atMost: number): Promise<number> => {
    const some = sealSome(nowMs, atMost);
    going = some;
    return some.finally(() => {
      going = undefined;
    });
  };

  return {
    beat: (nowMs) => {
      if (going !== undefined || nowMs < restUntilMs) return;
      void begin(nowMs, JOBS_A_BEAT).then((done) => {
        if (done < JOBS_A_BEAT) restUntilMs = nowMs + REST_MS;
      });
    },
    all: async (nowMs) => {
      await going;
      return begin(nowMs, Number.POSITIVE_INFINITY);
    },
    failures: () => failures,
    close: worker.close,
  };
};

/** The oldest rows of one source after the other, so that none waits for another's backlog. */
const prepareDue = (
  database: Database,
  failures: readonly SealFailure[],
): ((beforeMs: number) => Pick<SealJob, 'sourceId' | 'day'> | undefined) => {
  const oldestAfter = database
    .prepare<[number], [sourceId: number, deviceMs: number]>(
      'SELECT source_id, device_ms FROM reading WHERE source_id > ? ORDER BY source_id, device_ms LIMIT 1',
    )
    .raw();
  const oldestFrom = database
    .prepare<[number, number], number>(
      'SELECT device_ms FROM reading WHERE source_id = ? AND device_ms >= ? ORDER BY device_ms LIMIT 1',
    )
    .pluck();
  /** Past the days that could not be sealed. */
  const oldestOf = (sourceId: number, oldestMs: number): number | undefined => {
    const failed = failures.filter((failure) => failure.sourceId === sourceId).map(({ day }) => day);
    let atMs: number | undefined = oldestMs;
    while (atMs !== undefined && failed.includes(dayOf(atMs)))
      atMs = oldestFrom.get(sourceId, (dayOf(atMs) + 1) * DAY_MS);
    return atMs;
  };
  let last = Number.NEGATIVE_INFINITY;
  return (beforeMs) => {
    const startedAfter = last;
    let isRound = false;
    for (;;) {
      const [sourceId, oldestMs] = oldestAfter.get(last) ?? [];
      if (sourceId === undefined || oldestMs === undefined) {
        if (isRound) return undefined;
        isRound = true;
        last = Number.MIN_SAFE_INTEGER;
        continue;
      }
      if (isRound && sourceId > startedAfter) return undefined;
      last = sourceId;
      const atMs = oldestOf(sourceId, oldestMs);
      if (atMs !== undefined && atMs < beforeMs) return { sourceId, day: dayOf(atMs) };
    }
  };
};

/** Puts the sealed day in the place of its rows, in one transaction; leaves all as it is where something came in between. */
const prepareCommit = (database: Database, edge: SealEdge): ((sealed: SealedJob) => void) => {
  const put = preparePutSealed(database);
  const remove = database.prepare<[number, number, number, number]>(
    'DELETE FROM reading WHERE source_id = ? AND device_ms >= ? AND (device_ms, variant) <= (?, ?)',
  );
  return database.transaction(({ sealed, rows, upToMs, upToVariant }: SealedJob): void => {
    const { sourceId, day } = sealed;
    if (edge.takeTouched(sourceId, day)) return;
    put(sealed);
    const { changes } = remove.run(sourceId, day * DAY_MS, upToMs, upToVariant);
    if (changes !== rows)
      throw new Error(`Sealed ${rows} rows of source ${sourceId}, day ${day}, but ${changes} were there.`);
  }).immediate;
};

type SealWorker = { seal(job: SealJob): Promise<SealAnswer>; close(): void };

/** One job at a time. A worker that died takes its job with it, as a failure; the next job starts another. */
const buildSealWorker = (
  path: string,
  url = workerUrlBeside(import.meta.url, 'journal', 'seal-worker'),
): SealWorker => {
  let worker: Worker | undefined;
  let waiting: ((answer: SealAnswer) => void) | undefined;

  const settle = (answer: SealAnswer): void => {
    waiting?.(answer);
    waiting = undefined;
    // An idle worker keeps no process alive.
    worker?.unref();
  };
  const started = (): Worker => {
    const fresh = new Worker(url, { workerData: path });
    const died = (because: string): void => {
      if (worker !== fresh) return;
      worker = undefined;
      settle({ because });
    };
    fresh.on('message', settle);
    fresh.on('error', ({ message }) => died(message));
    fresh.on('exit', () => died('The sealing worker has ended.'));
    return fresh;
  };
  return {
    seal: (job) =>
      new Promise((resolve) => {
        worker ??= started();
        waiting = resolve;
        worker.ref();
        worker.postMessage(job);
      }),
    close: () => {
      const last = worker;
      worker = undefined;
      settle({ because: 'The journal was closed.' });
      void last?.terminate();
    },
  };
};
