import { type Schedule, scheduleOf, together } from '../event.js';
import type { Hatchery } from '../hatchery.js';
import { routineOf } from '../routine.js';
import { demoLog } from './demo-log.js';

const HOUR_MS = 3_600_000;
const MINUTE_MS = 60_000;
const DAY_MS = 24 * HOUR_MS;

/** Before the demo starts no tank is taken down, so that it starts with every tank full. */
const QUIET_MS = 2 * HOUR_MS;

/** The day's work alone, as it goes on while nobody tells a story: what a demo relives that was away for a while. */
export const demoAway = (hatchery: Hatchery, nowMs: number): Schedule => {
  const routine = routineOf(hatchery);
  return (atMs) => routine(atMs).filter(({ kind }) => kind !== 'drain-down' || atMs < nowMs - QUIET_MS);
};

/** Two weeks until `nowMs` as the log tells them: half an hour without air five nights ago, a board unplugged two days ago. */
export const demoPast = (hatchery: Hatchery, nowMs: number): Schedule => {
  const airLostMs = Math.floor(nowMs / DAY_MS - 5) * DAY_MS + 2 * HOUR_MS + 12 * MINUTE_MS;
  const unpluggedMs = nowMs - 2 * DAY_MS - 3 * HOUR_MS;
  return together(
    demoLog(hatchery, nowMs).schedule,
    scheduleOf([
      { kind: 'air-off', main: 'air-b', fromMs: airLostMs, toMs: airLostMs + 35 * MINUTE_MS },
      {
        kind: 'board-fault',
        board: 'seed-2',
        fault: { kind: 'offline', buffers: false },
        fromMs: unpluggedMs,
        toMs: unpluggedMs + 40 * MINUTE_MS,
      },
    ]),
  );
};
