import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import type { Config } from '../../gateway/config.js';
import { type Gateway, startGateway } from '../../gateway/gateway.js';
import type { Delivery } from '../../gateway/intake/delivery.js';
import { ensureSite, keepPlace } from '../../gateway/settings.js';
import type { Hatchery } from '../../rules/hatchery.js';
import { SITE } from './built-site.js';
import { openChromium } from './chromium.js';
import { type HandClock, handClock } from './hand-clock.js';
import { hatchery, tank } from './hatchery.js';
import { NIGHT_MS } from './ladder-night.js';
import { settle } from './people.js';

export const PHONE = { width: 390, height: 844 } as const;
export const WALL = { width: 1920, height: 1080 } as const;

export type Reading = { readonly topic: string; readonly value: number; readonly atMs: number };

const LIFE_MS = 1_000;

/** A whole gateway whose clock stands still until it is moved, and a browser to look at it. */
export type BrowserHatchery = {
  readonly gateway: Gateway;
  readonly clock: HandClock;
  readonly url: string;
  readonly browser: Browser;
  /** A page of its own, as on a phone; what it logs as an error is kept. */
  readonly open: (path: string, size?: { readonly width: number; readonly height: number }) => Promise<Page>;
  /** What any page threw. */
  readonly errors: readonly string[];
  /** Lets the clock of the gateway pass so long, and the page hear of it. */
  readonly passes: (page: Page, ms: number) => Promise<void>;
  /** Readings that land together, oldest first. */
  readonly hears: (readings: readonly Reading[]) => void;
  readonly close: () => Promise<void>;
};

export const openBrowserHatchery = async (told: Hatchery, startMs: number): Promise<BrowserHatchery> => {
  const dataFolder = mkdtempSync(join(tmpdir(), 'nightwater-browser-'));
  const clock = handClock(startMs);
  const config: Config = {
    dataFolder,
    http: { host: '127.0.0.1', port: 0 },
    mqtt: { kind: 'embedded', host: '127.0.0.1', port: 0 },
    filters: ['tanks/+/+'],
    history: { kind: 'sqlite' },
    durability: 'second',
  };
  const started = await startGateway({
    config,
    clock,
    build: 'browser-test',
    version: '0.0.0',
    pages: SITE,
    say: () => undefined,
    demo: { furnish: async (journal) => furnish(journal, told, startMs) },
  });
  if (!started.ok) throw new Error(started.fault);
  const gateway = started.value;
  const browser = await openChromium();
  const errors: string[] = [];
  return {
    gateway,
    clock,
    url: gateway.url,
    browser,
    errors,
    open: async (path, size = PHONE) => {
      const context = await browser.newContext({ viewport: size, hasTouch: size === PHONE, deviceScaleFactor: 1 });
      const page = await context.newPage();
      page.on('pageerror', (error) => errors.push(String(error)));
      await page.goto(`${gateway.url}${path}`);
      return page;
    },
    passes: async (page, ms) => {
      clock.isSet(clock.now() + Math.max(0, ms - LIFE_MS));
      clock.passes(LIFE_MS);
      await page.evaluate(() => new Promise((resolve) => requestAnimationFrame(() => resolve(undefined))));
    },
    hears: (readings) => gateway.keeping.take(readings.map(deliveryOf)),
    close: async () => {
      await browser.close();
      await gateway.close();
      rmSync(dataFolder, { recursive: true, force: true });
    },
  };
};

/** One tank at three in the morning, in UTC, with the people who may be woken and nothing named. */
export const openNightHatchery = async (): Promise<BrowserHatchery> => {
  const told = hatchery([tank('l2')], { mappings: [] });
  const room = await openBrowserHatchery({ ...told, site: { ...told.site, zone: 'UTC' } }, NIGHT_MS);
  settle(room.gateway.journal);
  return room;
};

type Journal = Gateway['journal'];

/** Settings as a person would have made them, and each probe named by its topic. */
const furnish = (journal: Journal, told: Hatchery, atMs: number): void => {
  const { name, zone } = told.site;
  ensureSite(journal, { name, zone, nowMs: atMs });
  for (const place of told.places) keepPlace(journal, place, 'first start', atMs);
  for (const { channelId, unit, periodMs } of told.mappings) {
    const topic = topicOf(channelId);
    const source = journal.sources.ensure({ key: topic, topic, firstSeenMs: atMs });
    const period = periodMs === undefined ? {} : { periodMs };
    journal.mappings.name(
      { sourceId: source.id, channelId, unit, fromMs: 0, ruling: true, ...period },
      'first start',
      atMs,
    );
  }
};

export const topicOf = (channelId: string): string => {
  const [place = '', quantity = ''] = channelId.split('.');
  return `tanks/${place}/${quantity}`;
};

const deliveryOf = ({ topic, value, atMs }: Reading): Delivery => ({
  topic,
  payload: new TextEncoder().encode(String(value)),
  qos: 0,
  retained: false,
  redelivered: false,
  arrivalMs: atMs,
});
