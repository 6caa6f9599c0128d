import type { Clock } from '../../gateway/clock.js';

/** A clock that only a test turns; what is due on the way runs at its own time. */
export type HandClock = Clock & { passes(ms: number): void };

export const handClock = (startMs: number): HandClock => {
  let nowMs = startMs;
  const timers = new Set<{ readonly everyMs: number; dueMs: number; readonly run: () => void }>();
  return {
    now: () => nowMs,
    every: (everyMs, run) => {
      const timer = { everyMs, dueMs: nowMs + everyMs, run };
      timers.add(timer);
      return () => timers.delete(timer);
    },
    passes: (ms) => {
      const endMs = nowMs + ms;
      for (;;) {
        const [next] = [...timers].filter(({ dueMs }) => dueMs <= endMs).sort((a, b) => a.dueMs - b.dueMs);
        if (next === undefined) break;
        nowMs = next.dueMs;
        next.dueMs += next.everyMs;
        next.run();
      }
      nowMs = endMs;
    },
  };
};
