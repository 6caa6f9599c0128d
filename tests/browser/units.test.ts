import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { makeRoute, PLAIN } from '../../dashboard/state/route.js';
import type { Entry } from '../../rules/log/entry.js';
import { type BrowserHatchery, openBrowserHatchery, PHONE, topicOf, WALL } from '../support/browser-hatchery.js';
import { noChromium } from '../support/chromium.js';
import { foreignFigures } from '../support/foreign-figures.js';
import { hatchery, NOON_MS } from '../support/hatchery.js';
import { peer } from '../support/peer.js';
import { UNITED, unitsDiary } from '../support/units-diary.js';

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
const START_MS = NOON_MS - 30 * HOUR;
const EVERY_MS = 10 * MINUTE;

const TOLD = hatchery(UNITED.tanks, { mappings: UNITED.mappings });

peer('Chromium', noChromium)('a site in °F, with twelve hours and a decimal comma', () => {
  let room: BrowserHatchery;
  let page: Page;
  let written: readonly Entry[];

  /** A day and a night of readings and entries; L1 is too warm in the end. */
  const live = (): void => {
    written = unitsDiary(START_MS, NOON_MS);
    const due = [...written];
    for (let atMs = START_MS; atMs <= NOON_MS; atMs += EVERY_MS) {
      room.clock.isSet(atMs);
      const all = TOLD.mappings.map(({ channelId }) => channelId);
      room.hears(
        all.map((channelId) => ({ topic: topicOf(channelId), value: UNITED.valueAt(channelId, atMs, NOON_MS), atMs })),
      );
      for (let next = due[0]; next !== undefined && next.atMs <= atMs; next = due[0]) {
        due.shift();
        const { by, ...entry } = next;
        const kept = room.gateway.log.write(entry, by);
        if (!kept.ok) throw new Error(`${entry.kind}: ${JSON.stringify(kept.fault)}`);
      }
    }
  };

  const goes = async (path: string): Promise<void> => {
    await page.goto(`${room.url}${path}`);
    await page.waitForSelector('main');
    await page.waitForLoadState('networkidle');
    await page.evaluate(() => {
      for (const details of document.querySelectorAll('details')) details.open = true;
    });
  };
  const asked = <T>(path: string): Promise<T> =>
    page.evaluate(async (url) => (await fetch(url)).json() as Promise<T>, `/api/v1${path}`);

  beforeAll(async () => {
    room = await openBrowserHatchery(TOLD, START_MS);
    live();
    page = await room.open('/site');
    await page.getByRole('button', { name: '°F', exact: true }).click();
    await page.getByRole('button', { name: '12 hours' }).click();
    await page.getByRole('button', { name: 'a comma' }).click();
    await page.getByLabel('Height over the sea').fill('3,5');
    await page.getByRole('button', { name: 'Keep the change' }).click();
    await page.getByText('Kept. Every page and message says it so from now on.').waitFor();
  }, 120_000);
  afterAll(async () => {
    expect(room.errors).toEqual([]);
    await room.close();
  });

  it('keeps what was chosen, in one form', async () => {
    const { site } = await asked<{ readonly site: { readonly body: object } }>('/site');
    expect(site.body).toMatchObject({ temperatureUnit: 'F', hours: 12, decimalMark: 'comma', altitudeM: 3.5 });
  });

  it('says everything so, on every page', { timeout: 180_000 }, async () => {
    const run = written.find(({ kind }) => kind === 'run-plan')?.id ?? '';
    const { alarms } = await asked<{ readonly alarms: readonly { readonly id: string }[] }>('/picture');
    expect(alarms.length).toBeGreaterThan(0);
    const review = await page.evaluate(async () => {
      const body = JSON.stringify({ start: 'by-hand', tanks: ['l1'], deadMs: Date.UTC(2026, 4, 4, 11) });
      const headers = { 'content-type': 'application/json' };
      const answer = await fetch('/api/v1/reviews', { method: 'POST', headers, body });
      return (await answer.json()) as { readonly review: { readonly id: string } };
    });
    const paths = [
      '/',
      ...PLAIN.map((one) => makeRoute({ page: one })),
      ...['/tanks/l1', '/tanks/l2', '/tanks/t1', '/history', '/history?tank=l1', '/reviews', '/reviews?tank=l1'],
      ...['/sheets/l2', '/limits/l1', '/batches/B-1', `/runs/${run}`, `/reviews/${review.review.id}`],
      ...alarms.map(({ id }) => makeRoute({ page: 'alarm', id })),
      ...written.map(({ id, kind }) => makeRoute({ page: 'write', place: 'l2', kind, corrects: id })),
    ];
    const foreign: Record<string, readonly string[]> = {};
    const said: string[] = [];
    const look = async (path: string): Promise<void> => {
      await goes(path);
      const found = (await foreignFigures(page)).filter((one) => one !== 'BUTTON: °C');
      if (found.length > 0) foreign[path] = found;
      if ((await page.locator('main').textContent())?.includes('°F') === true) said.push(path);
    };
    for (const path of paths) await look(path);
    await page.setViewportSize(WALL);
    for (const path of ['/', '/tanks/l1', `/reviews/${review.review.id}`]) await look(path);
    await page.setViewportSize(PHONE);
    expect(foreign).toEqual({});
    expect(said.length).toBeGreaterThan(10);
  });

  it('knows a difference from a temperature: a plan with a rise of 18 °F goes from 68 to 86 °F', async () => {
    const run = written.find(({ kind }) => kind === 'run-plan')?.id ?? '';
    // Half a degree Celsius a minute.
    for (let minute = 1; minute <= 4; minute += 1) {
      room.clock.isSet(NOON_MS + minute * MINUTE);
      room.hears([{ topic: topicOf('t1.temperature'), value: 21 + minute / 2, atMs: NOON_MS + minute * MINUTE }]);
    }
    await goes(`/runs/${run}`);
    const facts = (await page.locator('.run-sheet .facts').textContent()) ?? '';
    expect(facts).toContain('Ambient68 °F');
    expect(facts).toContain('Warm, cool86 °F, 68 °F');
    await page.getByText('rising 54,0 °F an hour').waitFor();
  });

  it('takes what is typed as it says it, and keeps degrees Celsius', async () => {
    await goes('/write?place=l2&kind=water-change');
    await page.getByLabel('Share of the water').fill('12,5');
    await page.getByLabel('Temperature').fill('78,5');
    await page.getByRole('button', { name: 'Write it' }).click();
    await page.getByText('Written.').waitFor();
    const lines = await asked<readonly { readonly entry: Entry }[]>('/log?kind=water-change');
    const { fields } = lines.at(-1)?.entry ?? {};
    // (78.5 − 32) × 5/9; the salinity stood there from the last time.
    expect(fields).toEqual({ sharePct: 12.5, temperatureC: 25.833333, salinity: 29.5 });
    await goes('/day');
    await page.getByText('12,5 %, with 78,5 °F').first().waitFor();
  });

  it('sets a limit in °F with a comma, and says on the bench what a sum comes to', async () => {
    await goes('/limits/l2');
    await page.locator('.limits-row', { hasText: 'Temperature' }).getByLabel('limit, high').fill('87,8');
    await page.getByRole('button', { name: /^Stand by these/ }).click();
    await page.getByText('The hatchery stands by these lines.').waitFor();
    const { body } = await asked<{ readonly body: { readonly stageWants: unknown } }>('/places/l2');
    // (87.8 − 32) × 5/9 = 31
    expect(JSON.stringify(body)).toMatch(/"limitHigh":31(?:\.0{6,}\d*)?[,}]/);
    await goes('/bench');
    const sum = page.locator('details', { hasText: 'Stuck heater' });
    await sum.getByLabel('Power of the heater').fill('1,5');
    await sum.getByLabel('Volume', { exact: false }).first().fill('500');
    await sum.getByLabel('Temperature now').fill('68');
    await sum.getByLabel('Limit').fill('86');
    // 1.5 kW on 500 L × 1.025 kg/L × 3.99 kJ/(kg K): 2.6 °C an hour are 4.75 °F an hour, and 18 °F take 3.8 h.
    await sum.getByText(/rises 4,7\d* °F\/h, to the limit 3,7\d* h/).waitFor();
  });

  it('reads no number that could be two: 1.200 is neither 1.2 nor 1200 where a comma is the mark', async () => {
    await goes('/write?place=l2&kind=feeding');
    await page.getByLabel('Volume').fill('1.200');
    await page.getByRole('button', { name: 'Write it' }).click();
    await page.getByText('Volume: this is not a number; write digits only, as in 12,5.').first().waitFor();
  });

  it('says beside a picker, which writes as the device does, what was chosen', async () => {
    await goes('/history?tank=l1');
    await page.getByLabel('From', { exact: true }).fill('2026-05-04T09:40');
    await page.getByText('Mon 4 May, 9:40 am').waitFor();
    await page.getByLabel('From', { exact: true }).fill('2026-05-03T21:05');
    await page.getByText('Sun 3 May, 9:05 pm').waitFor();
  });
});
