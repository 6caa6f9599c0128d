import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { SAMPLE_PAGES, SAMPLE_ROOMS } from '../../dashboard/parts/sample-name.js';
import { becomesDay } from '../support/axe.js';
import { compressedCode, serveSite } from '../support/built-site.js';
import { noChromium, openChromium } from '../support/chromium.js';
import { peer } from '../support/peer.js';

const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const WALL = { width: 1920, height: 1080 };
const PHONE = { width: 390, height: 844 };

type Size = { readonly width: number; readonly height: number };
type Violation = { readonly id: string; readonly html: readonly string[] };

peer('Chromium', noChromium)('the pages of the invented hatchery', () => {
  let browser: Browser;
  let site: Awaited<ReturnType<typeof serveSite>>;
  /** One screen that goes from page to page: its own memory keeps what each of them fetches again. */
  let screen: BrowserContext | undefined;
  beforeAll(async () => {
    site = await serveSite();
    browser = await openChromium();
  });
  afterAll(async () => {
    await browser.close();
    await site.close();
  });

  const on = async <T>(
    path: string,
    size: Size,
    scheme: 'dark' | 'light',
    look: (page: Page) => Promise<T>,
  ): Promise<T> => {
    screen ??= await browser.newContext({ reducedMotion: 'reduce' });
    const page = await screen.newPage();
    await page.setViewportSize(size);
    await page.emulateMedia({ colorScheme: scheme });
    const thrown: string[] = [];
    page.on('pageerror', (error) => thrown.push(error.message));
    page.on('response', (response) => {
      // Behind these pages stands no gateway; home-screen.test.ts asks a whole one.
      if (response.status() === 404 && !response.url().includes('/api/')) thrown.push(`404 ${response.url()}`);
    });
    await page.goto(site.url + path);
    await page.waitForSelector('main').catch((late) => {
      throw new Error(`${path} shows nothing. ${thrown.join(' ')}`, { cause: late });
    });
    await page.evaluate(() => document.fonts.ready);
    const seen = await look(page);
    await page.close();
    expect(thrown).toEqual([]);
    return seen;
  };

  const violations = async (page: Page): Promise<readonly Violation[]> => {
    await page.evaluate(AXE);
    return page.evaluate(async () => {
      // biome-ignore lint/suspicious/noExplicitAny: axe puts itself on the page without a type
      const found = await (globalThis as any).axe.run(document, {
        runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'],
      });
      if (found.passes.length === 0) throw new Error('axe looked at nothing');
      // biome-ignore lint/suspicious/noExplicitAny: as above
      return found.violations.map((one: any) => ({ id: one.id, html: one.nodes.map((node: any) => node.html) }));
    });
  };

  it.each<[string, Size]>([
    ['/parts', { width: 1200, height: 900 }],
    ['/parts?room=storm', WALL],
    ['/parts?room=calm', WALL],
    ['/parts?room=forty', WALL],
    ['/parts?room=lost', WALL],
    ['/parts?room=storm', PHONE],
    ['/parts?room=alarmed.alarm', PHONE],
    ['/parts?room=alarmed.alarms', PHONE],
    ['/parts?room=alarmed.sources', PHONE],
    ['/parts?room=alarmed.places', { width: 1200, height: 900 }],
    ['/parts?room=alarmed.tank', PHONE],
    ['/parts?room=alarmed.hot', PHONE],
    ['/parts?room=alarmed.first', PHONE],
  ])('%s at %o can be used by everybody, by night and by day (axe-core, WCAG 2.2 AA)', async (path, size) => {
    const [night, day] = await on(path, size, 'dark', async (page) => {
      const byNight = await violations(page);
      await becomesDay(page);
      return [byNight, await violations(page)] as const;
    });
    expect(night).toEqual([]);
    expect(day).toEqual([]);
  });

  /** By how much the page is wider and taller than its window, once it has laid itself out for it. */
  const overflowOf = (page: Page) =>
    page.evaluate(async () => {
      const frame = (): Promise<number> => new Promise((resolve) => requestAnimationFrame(resolve));
      for (let frames = 0; frames < 4; frames += 1) await frame();
      const { scrollWidth, scrollHeight } = document.documentElement;
      const strips = document.querySelector('.strips');
      const foot = document.querySelector('.foot')?.getBoundingClientRect().top ?? 0;
      const lowest = [...document.querySelectorAll('.line')].map((line) => line.getBoundingClientRect().bottom);
      return {
        wide: scrollWidth - innerWidth,
        tall: scrollHeight - innerHeight,
        within: strips !== null && Math.max(0, ...lowest) <= foot + 1,
      };
    });

  it.each(['calm', 'storm', 'forty', 'sixty', 'one', 'lost'])('the wall of a %s room never scrolls', async (room) => {
    const over = await on(`/parts?room=${room}`, WALL, 'dark', async (page) => {
      const seen = [];
      for (const size of [WALL, { width: 1366, height: 768 }, { width: 2560, height: 1080 }]) {
        await page.setViewportSize(size);
        seen.push(await overflowOf(page));
      }
      return seen;
    });
    for (const one of over) expect(one).toEqual({ wide: 0, tall: 0, within: true });
  });

  /** Capital heights for 4 m on a 43 inch screen of 1920: 16 and 20 minutes of arc, 37.6 and 46.9 px (ISO 9241-3 as publicly quoted). */
  it('writes what matters on the wall large enough for four metres', async () => {
    const heights = await on('/parts?room=storm', WALL, 'dark', (page) =>
      page.evaluate(() => {
        const paper = document.createElement('canvas').getContext('2d');
        const capital = (selector: string): number => {
          const element = document.querySelector(selector);
          if (element === null || paper === null) return 0;
          const { fontSize, fontWeight } = getComputedStyle(element);
          paper.font = `${fontWeight} 1000px B612`;
          return (paper.measureText('H').actualBoundingBoxAscent / 1000) * Number.parseFloat(fontSize);
        };
        return {
          values: ['.label-loud .label-value', '.label-wanted .label-value', '.first-left', '.first-headline'].map(
            capital,
          ),
          words: [
            '.label b',
            '.label-calm .label-value',
            '.beneath li',
            '.first-cause',
            '.first-to',
            '.foot-alive',
          ].map(capital),
        };
      }),
    );
    for (const height of heights.values) expect(height).toBeGreaterThanOrEqual(46.9 - 0.5);
    for (const height of heights.words) expect(height).toBeGreaterThanOrEqual(37.6 - 0.5);
  });

  it.each(['/parts', ...[...SAMPLE_ROOMS, ...SAMPLE_PAGES].map((room) => `/parts?room=${room}`)])(
    '%s keeps to one column at 320 px, without sideways scrolling (WCAG 2.2, 1.4.10)',
    async (path) => {
      const over = await on(path, { width: 320, height: 700 }, 'dark', (page) =>
        page.evaluate(() => document.documentElement.scrollWidth - innerWidth),
      );
      expect(over).toBeLessThanOrEqual(0);
    },
  );

  it('shows at three in the morning, without scrolling: which tank, how bad, how long, what to check, and the answer', async () => {
    const seen = await on('/parts?room=alarmed.alarm', PHONE, 'dark', (page) =>
      page.evaluate(() => {
        const bottom = (selector: string): number =>
          document.querySelector(selector)?.getBoundingClientRect().bottom ?? Infinity;
        const button = document.querySelector('.night-button-first')?.getBoundingClientRect();
        return {
          bottoms: [
            '.alarm-head',
            '.alarm-headline',
            '.alarm-left',
            '.checks li:first-child',
            '.night-button-first',
          ].map(bottom),
          button: button?.height ?? 0,
        };
      }),
    );
    for (const bottom of seen.bottoms) expect(bottom).toBeLessThanOrEqual(PHONE.height);
    expect(seen.button).toBeGreaterThanOrEqual(64);
  });

  it('sends at most 150 kB of code to a phone that is opened, compressed, fonts apart; as much again for no other page', () => {
    const bytesOf = (isApart: boolean): readonly number[] =>
      compressedCode().flatMap(({ bytes, apart }) => (apart === isApart ? [bytes] : []));
    expect(bytesOf(false).reduce((sum, bytes) => sum + bytes, 0)).toBeLessThanOrEqual(150_000);
    for (const bytes of bytesOf(true)) expect(bytes).toBeLessThanOrEqual(75_000);
  });

  it('leads nobody from the room to an invented one', async () => {
    const fetched = async (path: string): Promise<readonly string[]> => {
      const context = await browser.newContext({ viewport: PHONE });
      const page = await context.newPage();
      const scripts: string[] = [];
      page.on('request', (request) => scripts.push(request.url()));
      await page.goto(site.url + path);
      await page.waitForSelector('main');
      await page.waitForLoadState('networkidle');
      await context.close();
      return scripts.filter((url) => /\/parts-[^/]*\.js$/.test(url));
    };
    expect(await fetched('/parts')).toHaveLength(1);
    for (const path of ['/', '/reading', '/alarms']) expect(await fetched(path), path).toEqual([]);
  });
});
