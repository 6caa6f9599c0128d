import { Worker } from 'node:worker_threads';
import {
  type HistoryTrouble,
  historyAwaySentence,
  historyBackSentence,
  historyRefusedSentence,
  historyStartSentence,
} from '../../rules/words/history.js';
import type { Confirmed, DueStanding } from '../journal/due.js';
import type { Journal } from '../journal/journal.js';
import { workerUrlBeside } from '../journal/worker-url.js';
import { type InfluxAddress, influxTarget, shownInflux } from './influx-address.js';
import type { Pace } from './spool-round.js';
import type { SpoolNews, SpoolSettings } from './spool-worker.js';

/** `sinceMs`: when it last took anything, where it takes nothing now; the start where it never did. */
export type SpoolStanding = DueStanding & { readonly sinceMs?: number; readonly trouble?: HistoryTrouble };

/** What brings every landed reading to the history database. Landing and the event loop never wait for it. */
export type Spool = {
  standing(): SpoolStanding;
  /** What is not confirmed by then waits in the journal. */
  close(): Promise<void>;
};

export type SpoolParts = {
  readonly journal: Pick<Journal, 'path' | 'due'>;
  readonly address: InfluxAddress;
  readonly now: () => number;
  /** A moment for people. */
  readonly when: (atMs: number) => string;
  readonly say: (line: string) => void;
  readonly pace?: Pace;
  readonly workerUrl?: URL;
};

export const PACE: Pace = {
  atMost: 5_000,
  limitMs: 30_000,
  restMs: 1_000,
  firstWaitMs: 1_000,
  longestWaitMs: 60_000,
};

/** A worker that died is started again after so long. */
const AGAIN_MS = 5_000;

export const openSpool = (parts: SpoolParts): Spool => {
  const { journal, address, now, say, pace = PACE } = parts;
  const { workerUrl = workerUrlBeside(import.meta.url, 'history', 'spool-worker') } = parts;
  const to = shownInflux(address);
  journal.due.follow(influxTarget(address));
  say(historyStartSentence(to, journal.due.standing()));
  const startMs = now();
  const speak = buildSpeech(parts, startMs);
  let trouble: HistoryTrouble | undefined;
  let worker: Worker | undefined;
  let again: NodeJS.Timeout | undefined;

  const stand = (next: HistoryTrouble | undefined): void => {
    speak(trouble, next);
    trouble = next;
  };
  /** After how long the worker may go on. */
  const keep = (confirmed: Confirmed): number => {
    const [first] = confirmed.refused;
    if (first !== undefined) say(historyRefusedSentence(to, confirmed.refused.length, first.because));
    try {
      journal.due.confirm(confirmed, now());
      return 0;
    } catch (error) {
      // A full disk, say: it is still due, and will be written again.
      say(`What InfluxDB confirmed could not be kept: ${error instanceof Error ? error.message : String(error)}`);
      return AGAIN_MS;
    }
  };
  const start = (): void => {
    const settings: SpoolSettings = { journalPath: journal.path, address, pace };
    const fresh = new Worker(workerUrl, { workerData: settings });
    worker = fresh;
    const died = (detail: string): void => {
      if (worker !== fresh) return;
      worker = undefined;
      stand({ code: 'worker-ended', detail });
      again = setTimeout(start, AGAIN_MS);
    };
    fresh.on('message', (news: SpoolNews) => {
      if (worker !== fresh) return;
      if (news.kind === 'standing') return stand(news.trouble);
      const waitMs = keep(news.confirmed);
      if (waitMs === 0) fresh.postMessage('kept');
      else setTimeout(() => fresh.postMessage('kept'), waitMs).unref();
    });
    fresh.on('error', ({ message }) => died(message));
    fresh.on('exit', () => died(''));
  };
  start();

  return {
    standing: () => {
      const standing = journal.due.standing();
      if (trouble === undefined) return standing;
      return { ...standing, trouble, sinceMs: standing.confirmedMs ?? startMs };
    },
    close: async () => {
      const last = worker;
      worker = undefined;
      clearTimeout(again);
      await last?.terminate();
    },
  };
};

/** Says a trouble when it begins or becomes another, and when it is over. */
const buildSpeech = (
  { journal, address, when, say }: SpoolParts,
  startMs: number,
): ((before: HistoryTrouble | undefined, next: HistoryTrouble | undefined) => void) => {
  const to = shownInflux(address);
  return (before, next) => {
    if (before?.code === next?.code) return;
    const standing = journal.due.standing();
    if (next === undefined) return say(historyBackSentence(to, standing));
    say(historyAwaySentence(to, when(standing.confirmedMs ?? startMs), next));
  };
};
