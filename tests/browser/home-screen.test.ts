import type { BrowserContext } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { makeRoute, PLAIN } from '../../dashboard/state/route.js';
import { type BrowserHatchery, openBrowserHatchery, PHONE } from '../support/browser-hatchery.js';
import { noChromium } from '../support/chromium.js';
import { hatchery, NOON_MS, tank } from '../support/hatchery.js';
import { peer } from '../support/peer.js';

peer('Chromium', noChromium)('Nightwater on the home screen of a phone', () => {
  let room: BrowserHatchery;
  /** One phone that goes from page to page. */
  let phone: BrowserContext | undefined;
  beforeAll(async () => {
    room = await openBrowserHatchery(hatchery([tank('l1'), tank('l2', { order: 1 })]), NOON_MS);
  });
  afterAll(async () => {
    await room.close();
  });

  /** iOS gives web push to pages on the home screen alone; both ask for a manifest (W3C Web Application Manifest). */
  it('can be put there: the browser finds nothing wrong with the manifest, nor with an icon', async () => {
    const page = await room.open('/');
    const session = await page.context().newCDPSession(page);
    const { data, errors, url } = await session.send('Page.getAppManifest');
    expect(errors).toEqual([]);
    expect(url).toBe(`${room.url}/app.webmanifest`);
    const manifest = JSON.parse(data ?? '');
    expect(manifest).toMatchObject({ start_url: '/', scope: '/', display: 'standalone' });
    // Every page of a test is a private window, which no browser installs from.
    const { installabilityErrors } = await session.send('Page.getInstallabilityErrors');
    expect(installabilityErrors.filter(({ errorId }) => errorId !== 'in-incognito')).toEqual([]);
    const links = await page.evaluate(() =>
      [...document.querySelectorAll<HTMLLinkElement>('link[rel~=icon], link[rel=apple-touch-icon]')].map(
        ({ href }) => href,
      ),
    );
    const icons = [...links, ...manifest.icons.map(({ src }: { readonly src: string }) => src)];
    const widths = await page.evaluate(async (sources: readonly string[]) => {
      const widthOf = async (source: string): Promise<number> => {
        const picture = new Image();
        picture.src = source;
        await picture.decode();
        return picture.naturalWidth;
      };
      return Promise.all(sources.map(widthOf));
    }, icons);
    for (const [index, width] of widths.entries()) expect(width, icons[index]).toBeGreaterThanOrEqual(32);
    await page.context().close();
  });

  it.each([
    '/',
    ...PLAIN.map((page) => makeRoute({ page })),
    '/tanks/l1',
    '/write?place=l1&kind=feeding',
    '/sheets/l1',
    '/limits/l1',
    '/reviews',
    '/history',
  ])('%s asks for nothing that is not there', async (path) => {
    phone ??= await room.browser.newContext({ viewport: PHONE });
    const page = await phone.newPage();
    const missed: string[] = [];
    page.on('response', (response) => {
      if (response.status() >= 400) missed.push(`${response.status()} ${response.url()}`);
    });
    page.on('console', (line) => {
      if (line.type() === 'error') missed.push(line.text());
    });
    await page.goto(room.url + path);
    await page.waitForSelector('main');
    await page.waitForLoadState('networkidle');
    await page.evaluate(() => document.fonts.ready);
    await page.close();
    expect(missed).toEqual([]);
  });

  it('is sent nothing of the pages apart before one of them is opened', async () => {
    const context = await room.browser.newContext({ viewport: PHONE });
    const page = await context.newPage();
    const apart: string[] = [];
    page.on('request', (request) => {
      if (/\/(?:far|parts)-[^/]*\.js$/.test(request.url())) apart.push(request.url());
    });
    for (const path of ['/', '/tanks/l1', '/alarms', '/day']) {
      await page.goto(room.url + path);
      await page.waitForSelector('main');
      await page.waitForLoadState('networkidle');
    }
    expect(apart).toEqual([]);
    await Promise.all([
      page.waitForRequest((request) => /\/far-/.test(request.url())),
      page.goto(`${room.url}/history`),
    ]);
    await context.close();
  });
});
