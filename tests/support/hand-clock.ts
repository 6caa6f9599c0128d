import type { Clock } from '../../gateway/clock.js';

/** A clock that moves only when it is told to; what was to be done every so often is done on the way. */
export type HandClock = Clock & {
  passes(ms: number): void;
  /** Somebody sets it: nothing is done on the way. */
  isSet(atMs: number): void;
};

type Job = { readonly everyMs: number; dueMs: number; readonly run: () => void };

export const handClock = (startMs: number): HandClock => {
  let nowMs = startMs;
  const jobs = new Set<Job>();
  const nextOf = (untilMs: number): Job | undefined =>
    [...jobs].filter(({ dueMs }) => dueMs <= untilMs).sort((a, b) => a.dueMs - b.dueMs)[0];
  return {
    now: () => nowMs,
    every: (everyMs, run) => {
      const job = { everyMs, dueMs: nowMs + everyMs, run };
      jobs.add(job);
      return () => jobs.delete(job);
    },
    passes: (ms) => {
      const untilMs = nowMs + ms;
      for (let job = nextOf(untilMs); job !== undefined; job = nextOf(untilMs)) {
        nowMs = Math.max(nowMs, job.dueMs);
        job.dueMs += job.everyMs;
        job.run();
      }
      nowMs = untilMs;
    },
    isSet: (atMs) => {
      for (const job of jobs) job.dueMs += atMs - nowMs;
      nowMs = atMs;
    },
  };
};
