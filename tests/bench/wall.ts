import { setTimeout as pause } from 'node:timers/promises';
import type { Browser, CDPSession, Page } from 'playwright-core';
import { noChromium, openChromium } from '../support/chromium.js';
import type { Bench, BenchOptions, Measured } from './figure.js';
import { openWallRoom } from './wall-room.js';

const SLOWED = 6;
/** What is still of the first picture: fonts, trails, the worker. */
const SETTLE_MS = 5_000;

type LongTask = { readonly atMs: number; readonly tookMs: number };
type Seen = { pictureMs: number | undefined; readonly longTasks: LongTask[] };
declare global {
  interface Window {
    seen: Seen;
  }
}

/**
 * On the page before anything of ours: every task over 50 ms (W3C Long Tasks), and when the first picture stood: every tank
 * in its place, a float drawn, a value in words.
 */
const watch = (tanks: number): void => {
  const seen: Seen = { pictureMs: undefined, longTasks: [] };
  window.seen = seen;
  new PerformanceObserver((list) => {
    for (const { startTime, duration } of list.getEntries()) seen.longTasks.push({ atMs: startTime, tookMs: duration });
  }).observe({ type: 'longtask', buffered: true });
  const isDrawn = (): boolean => {
    const papers = [...document.querySelectorAll<HTMLCanvasElement>('.strip-drawing canvas')];
    const middle = papers.at(-1);
    if (papers.length < tanks || middle === undefined || document.querySelector('.first') === null) return false;
    const { data } = middle.getContext('2d')?.getImageData(0, 0, middle.width, middle.height) ?? { data: [] };
    return data.some((value) => value !== 0);
  };
  const look = (): void => {
    if (isDrawn()) seen.pictureMs = performance.now();
    else requestAnimationFrame(look);
  };
  requestAnimationFrame(look);
};

/** Loads the wall with nothing cached, and tells when its picture stood. */
const firstPicture = async (page: Page, url: string): Promise<number> => {
  await page.goto(url);
  await page.waitForFunction(() => window.seen.pictureMs !== undefined, undefined, { timeout: 60_000 });
  return page.evaluate(() => window.seen.pictureMs ?? Number.NaN);
};

const busyS = async (session: CDPSession): Promise<number> => {
  const { metrics } = await session.send('Performance.getMetrics');
  return metrics.find(({ name }) => name === 'TaskDuration')?.value ?? Number.NaN;
};

type TraceEvent = {
  readonly name: string;
  readonly pid: number;
  readonly tid: number;
  readonly tdur?: number;
  readonly args: { readonly name?: string };
};

/**
 * The longest task's own time on the processor, ms, as the browser traces it: what other programs take meanwhile is not in
 * it, which it is in a task's length. Six times it is the length on an idle machine six times as slow.
 */
const longestOwnMs = async (browser: Browser, page: Page, seconds: number): Promise<number> => {
  await browser.startTracing(page, { categories: ['toplevel', 'disabled-by-default-devtools.timeline'] });
  await pause(seconds * 1_000);
  const { traceEvents } = JSON.parse((await browser.stopTracing()).toString()) as {
    readonly traceEvents: readonly TraceEvent[];
  };
  const mains = traceEvents.filter(({ name, args }) => name === 'thread_name' && args.name === 'CrRendererMain');
  const isMain = ({ pid, tid }: TraceEvent): boolean => mains.some((main) => main.pid === pid && main.tid === tid);
  const tasks = traceEvents.filter((event) => event.name === 'RunTask' && isMain(event));
  return Math.max(0, ...tasks.map(({ tdur = 0 }) => tdur)) / 1_000;
};

const look = async (browser: Browser, url: string, tanks: number, seconds: number) => {
  const context = await browser.newContext({ viewport: { width: 1920, height: 1080 }, serviceWorkers: 'block' });
  const page = await context.newPage();
  await page.addInitScript(watch, tanks);
  const session = await context.newCDPSession(page);
  await session.send('Network.enable');
  await session.send('Network.setCacheDisabled', { cacheDisabled: true });
  await session.send('Performance.enable');
  await firstPicture(page, url);
  const quickMs = await firstPicture(page, url);
  await session.send('Emulation.setCPUThrottlingRate', { rate: SLOWED });
  const slowMs = await firstPicture(page, url);
  await pause(SETTLE_MS);
  const [fromMs, before] = [await page.evaluate(() => performance.now()), await busyS(session)];
  await pause(seconds * 1_000);
  const [toMs, after] = [await page.evaluate(() => performance.now()), await busyS(session)];
  const { longTasks } = await page.evaluate(() => window.seen);
  await session.send('Emulation.setCPUThrottlingRate', { rate: 1 });
  const ownMs = await longestOwnMs(browser, page, seconds);
  await context.close();
  const during = longTasks.filter(({ atMs }) => atMs >= fromMs && atMs <= toMs);
  return { quickMs, slowMs, ownMs, during, longTasks, busy: (100 * (after - before) * 1_000) / (toMs - fromMs) };
};

const longest = (tasks: readonly LongTask[]): number => Math.max(0, ...tasks.map(({ tookMs }) => tookMs));

const run = async ({ tanks, seconds, say }: BenchOptions): Promise<Measured> => {
  const because = noChromium();
  if (because !== undefined) return { figures: [], skipped: [{ what: 'wall', because }] };
  const room = await openWallRoom(tanks);
  const browser = await openChromium();
  try {
    say(`${tanks} tanks × ${room.probes} channels at 1 Hz, CPU slowed ${SLOWED} times, ${seconds} s`);
    const { quickMs, slowMs, ownMs, during, longTasks, busy } = await look(browser, room.url, tanks, seconds);
    return {
      figures: [
        {
          what: 'first meaningful picture',
          value: slowMs,
          unit: 'ms',
          anchor: { what: 'CPU not slowed', value: quickMs },
          budget: { most: 2_000 },
        },
        {
          what: 'longest task while it lives',
          value: longest(during),
          unit: 'ms',
          anchor: { what: `${SLOWED} times its own time, not slowed`, value: SLOWED * ownMs },
          budget: { most: 50 },
        },
        {
          what: 'longest task while it loads',
          value: longest(longTasks.filter((task) => !during.includes(task))),
          unit: 'ms',
        },
        { what: 'tasks over 50 ms', value: during.length, unit: `in ${seconds} s` },
        { what: 'busy', value: busy, unit: '% of the time' },
      ],
      skipped: [],
    };
  } finally {
    await browser.close();
    await room.close();
  }
};

export const wallBench: Bench = {
  name: 'wall',
  about: `the wall in Chromium with every channel at 1 Hz, CPU slowed ${SLOWED} times: first picture, long tasks`,
  run,
};
