import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Picture } from '../../rules/wire/picture.js';
import { becomesDay, seriousViolations } from '../support/axe.js';
import { noChromium, openChromium } from '../support/chromium.js';
import { type GatewayProcess, startGatewayProcess, untilAnswer } from '../support/gateway-process.js';
import { peer } from '../support/peer.js';

const WALL = { width: 1920, height: 1080 };
const PHONE = { width: 390, height: 844 };
type Size = typeof WALL;

/** The heater welds on 48 s after the boards went live; the climb has to show before anybody can know it. */
const LONG_MS = 480_000;

const ALARM = 'a[href*="heater-stuck-on.l2"]';

peer('Chromium', noChromium)('the demo, with one day of its past', () => {
  let gateway: GatewayProcess;
  let browser: Browser;
  let wall: Page;
  let tank: Page;
  const thrown: string[] = [];

  const open = async (path: string, size: Size, scheme: 'dark' | 'light' = 'dark'): Promise<Page> => {
    const context = await browser.newContext({ viewport: size, colorScheme: scheme, reducedMotion: 'reduce' });
    const page = await context.newPage();
    page.on('pageerror', (error) => thrown.push(`${path}: ${error.message}`));
    await page.goto(`${gateway.url()}${path}`);
    await page.waitForSelector('main');
    return page;
  };

  beforeAll(async () => {
    gateway = await startGatewayProcess({ command: ['demo', '--days', '1'] });
    browser = await openChromium();
    wall = await open('/', WALL);
    tank = await open('/tanks/l2', PHONE);
  }, LONG_MS);
  afterAll(async () => {
    await browser?.close();
    await gateway?.close();
  });

  test('asks nobody to sign in, and shows every tank with its value', async () => {
    await wall.waitForSelector('.label-value');
    const labels = await wall.locator('.label').allTextContents();
    expect(labels.length).toBeGreaterThanOrEqual(15);
    expect(labels.every((text) => /\d/.test(text))).toBe(true);
  });

  test('is alive: values change on the wall by themselves', async () => {
    const values = () => [...document.querySelectorAll('.label-value')].map((one) => one.textContent).join(' ');
    const first = await wall.evaluate(values);
    await wall.waitForFunction(
      (before) => [...document.querySelectorAll('.label-value')].map((one) => one.textContent).join(' ') !== before,
      first,
      { timeout: 60_000 },
    );
    expect(await wall.evaluate(values)).not.toBe(first);
  });

  test(
    'raises an alarm when the heater of L2 sticks: on the wall and on the page of the tank',
    async () => {
      await wall.waitForSelector(`.first ${ALARM}`, { timeout: LONG_MS });
      const words = await wall.locator('.first').textContent();
      expect(words).toContain('L2');
      expect(words).toContain('heater looks stuck on');
      expect(words).toMatch(/Unanswered for/);
      // Nobody touched the page of the tank: it heard of it by the feed.
      await tank.waitForSelector(ALARM, { timeout: 60_000 });
    },
    LONG_MS,
  );

  test.each<[string, string, Size]>([
    ['the wall', '/', WALL],
    ['the tank', '/tanks/l2', PHONE],
    ['the alarm', 'the alarm', PHONE],
    ['the boards', '/sources', PHONE],
    ['the tanks', '/places', PHONE],
    ['signing in', '/sign-in', PHONE],
    ['the key', '/reading', { width: 1200, height: 900 }],
  ])('can be used by everybody: %s has no serious fault by night and by day (axe-core)', async (_name, path, size) => {
    const alarm = await tank.locator(ALARM).first().getAttribute('href');
    const page = await open(path === 'the alarm' ? (alarm ?? '') : path, size, 'dark');
    await page.waitForLoadState('networkidle');
    expect(await seriousViolations(page), `${path} by night`).toEqual([]);
    await becomesDay(page);
    expect(await seriousViolations(page), `${path} by day`).toEqual([]);
    await page.context().close();
  });

  test('is answered on the page of the alarm, and the wall says so and by whom', async () => {
    await tank.locator(ALARM).first().click();
    await tank.getByRole('button', { name: 'I am going' }).click();
    await tank.getByText(/^Demo is going, since/).waitFor({ timeout: 60_000 });
    await wall.waitForFunction(
      () => document.querySelector('.first-answer')?.textContent === 'Demo is going',
      undefined,
      { timeout: 60_000 },
    );
  });

  test('never fell over itself', () => {
    expect(thrown).toEqual([]);
  });

  test(
    'stops as asked, comes back with what it knew, and leaves no boards behind when it is killed',
    async () => {
      expect(await gateway.kill('SIGINT')).toBe(0);
      await gateway.restart();
      const { alarms } = await untilAnswer<Picture>(gateway, '/picture', () => true);
      expect(alarms.find(({ id }) => id.startsWith('heater-stuck-on.l2'))).toMatchObject({ acknowledgedBy: 'demo' });
      // Resolves when nobody holds its console any more: the invented hatchery is a process of its own.
      expect(await gateway.kill('SIGKILL')).toBeNull();
    },
    LONG_MS,
  );
});
