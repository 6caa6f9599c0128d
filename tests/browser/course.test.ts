import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { Place } from '../../rules/place.js';
import { type BrowserHatchery, openBrowserHatchery, topicOf } from '../support/browser-hatchery.js';
import { noChromium } from '../support/chromium.js';
import { hatchery, mappingsOf, NOON_MS, tank } from '../support/hatchery.js';
import { peer } from '../support/peer.js';

const DAY = 86_400_000;
const TANKS = [tank('l1'), tank('l2', { order: 1 })];

peer('Chromium', noChromium)('a target that moves, set on a phone', () => {
  let room: BrowserHatchery;
  let page: Page;

  const goes = async (path: string): Promise<void> => {
    await page.goto(`${room.url}${path}`);
    await page.waitForSelector('main');
    await page.waitForLoadState('networkidle');
  };
  const placeNow = (): Promise<Place> =>
    page.evaluate(async () => {
      const { body } = (await (await fetch('/api/v1/places/l1')).json()) as { readonly body: Place };
      return body;
    });
  const water = () => page.locator('.limits-row', { hasText: 'Temperature' });
  const stands = () => page.getByRole('button', { name: /^Stand by these/ }).click();

  beforeAll(async () => {
    room = await openBrowserHatchery(hatchery(TANKS, { mappings: mappingsOf(TANKS, 600_000) }), NOON_MS);
    room.hears(['l1', 'l2'].map((id) => ({ topic: topicOf(`${id}.temperature`), value: 26, atMs: NOON_MS })));
    page = await room.open('/limits/l1');
  }, 120_000);
  afterAll(async () => {
    expect(room.errors).toEqual([]);
    await room.close();
  });

  it('goes by dates: what it comes to is said, what cannot be is told, and then the tank wants it', {
    timeout: 60_000,
  }, async () => {
    await water().getByRole('button', { name: 'by dates' }).click();
    // Half way between the two at noon in UTC, which is 13:00 here.
    await water().getByLabel('Date 1').fill('2026-05-05T13:00');
    await water().getByLabel('Target', { exact: true }).first().fill('25');
    await water().getByLabel('Date 2').fill('2026-05-03T13:00');
    await water().getByLabel('Target', { exact: true }).last().fill('27');
    await water().getByLabel('Band, on either side').fill('0');
    await stands();
    await water().getByText('This must be later than Tue 5 May, 13:00, the date before it.').waitFor();
    await water().getByText('The band is 0: give more than 0, as in 0.5.').waitFor();
    expect((await placeNow()).stageWants).toBeUndefined();
    await water().getByLabel('Date 1').fill('2026-05-03T13:00');
    await water().getByLabel('Date 2').fill('2026-05-05T13:00');
    await water().getByLabel('Band, on either side').fill('0.5');
    expect(await water().locator('.field-wrong').count()).toBe(0);
    await water().getByText('25 °C on Sun 3 May, 13:00 → 27 °C on Tue 5 May, 13:00: 1.0 °C a day').waitFor();
    await stands();
    await page.getByText('The hatchery stands by these lines.').waitFor();
    const points = [-DAY, DAY].map((afterMs) => ({ atMs: NOON_MS + afterMs, target: 26 + afterMs / DAY }));
    const { stageWants } = await placeNow();
    expect(stageWants?.larva?.temperature?.course).toEqual({ kind: 'schedule', points, within: 0.5 });
    await goes('/tanks/l1');
    await page.getByText('25.5 to 26.5 °C').first().waitFor();
  });

  it('follows another tank, and stays again', { timeout: 60_000 }, async () => {
    await goes('/limits/l1');
    await water().getByRole('button', { name: 'follows another place' }).click();
    await stands();
    await water().getByText('Which place does it follow? Choose one.').waitFor();
    await water().getByLabel('Follows').selectOption({ label: 'L2' });
    await water().getByLabel('So much above it').fill('-1');
    await stands();
    await page.waitForFunction(async () => (await (await fetch('/api/v1/places/l1')).text()).includes('"follows"'));
    expect((await placeNow()).stageWants?.larva?.temperature?.course).toEqual({
      kind: 'follows',
      placeId: 'l2',
      offset: -1,
      within: 0.5,
    });
    await goes('/tanks/l1');
    await page.getByText('24.5 to 25.5 °C').first().waitFor();
    await goes('/limits/l1');
    await water().getByRole('button', { name: 'stays' }).click();
    await stands();
    await page.waitForFunction(async () => !(await (await fetch('/api/v1/places/l1')).text()).includes('"course"'));
  });
});
