import { type Schedule, scheduleOf } from '../event.js';
import type { Hatchery } from '../hatchery.js';
import { batchesLived, larvaeLost, parentsCame, seedSold } from './demo-batches.js';
import { dayKept, ordinaryWork, writtenOf } from './demo-days.js';
import { demoPen, type Page } from './demo-pen.js';
import { spawningRun } from './demo-run.js';

const DAY_MS = 86_400_000;
export const DEMO_DAYS = 14;
/** A tank that is taken down needs so long to be full and calm again. */
const QUIET_MS = 2 * 3_600_000;

export type DemoPast = Page & { readonly schedule: Schedule };

/** Two believable weeks of the invented hatchery, and what is remembered of its season: what was written, and what happened. */
export const demoLog = (hatchery: Hatchery, nowMs: number): DemoPast => {
  const pen = demoPen(hatchery.seed, nowMs);
  parentsCame(pen);
  batchesLived(pen);
  larvaeLost(pen);
  seedSold(pen);
  spawningRun(pen);
  // Before the demo starts no tank is taken down, so that it starts with every tank full.
  const isQuiet = (done: ReturnType<typeof ordinaryWork>[number]): boolean =>
    done.event.kind === 'drain-down' && done.event.toMs > nowMs - QUIET_MS;
  for (const done of ordinaryWork(hatchery, DEMO_DAYS + 1, nowMs)) if (!isQuiet(done)) writtenOf(pen, done);
  for (let day = DEMO_DAYS; day >= 0; day -= 1) dayKept(pen, day);
  const { entries, events } = pen.pages();
  const from = nowMs - (DEMO_DAYS + 1) * DAY_MS;
  return { entries, events, schedule: indexed(events.filter(({ toMs }) => toMs > from)) };
};

/** Asked for every few seconds of two weeks: a day's events are looked through, not all. */
const indexed = (events: Page['events']): Schedule => {
  const byDay = new Map<number, Page['events'][number][]>();
  for (const event of events) {
    for (const day of new Set([event.fromMs, event.toMs].map((atMs) => Math.floor(atMs / DAY_MS))))
      byDay.set(day, [...(byDay.get(day) ?? []), event]);
  }
  return (atMs) => scheduleOf(byDay.get(Math.floor(atMs / DAY_MS)) ?? [])(atMs);
};
