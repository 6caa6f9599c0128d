import { createHash } from 'node:crypto';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { begun, diary } from '../rules/log/diary.js';
import { seriousViolations } from '../support/axe.js';
import { type BrowserHatchery, openBrowserHatchery, topicOf, WALL } from '../support/browser-hatchery.js';
import { noChromium } from '../support/chromium.js';
import { hatchery, NOON_MS, tank } from '../support/hatchery.js';
import { peer } from '../support/peer.js';

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
const DAY = 24 * HOUR;
const START_MS = NOON_MS - 6 * DAY;
const FOUND_MS = NOON_MS - 2 * HOUR;
const EVERY_MS = 10 * MINUTE;
/** L1 stood at 31 °C in these hours of the last night. */
const HOT = { fromMs: NOON_MS - 10 * HOUR, toMs: NOON_MS - 7 * HOUR };

const WANTS = { temperature: { targetLow: 22, targetHigh: 25, limitLow: 20, limitHigh: 27, confirmed: true } } as const;
const EMPTY = { stage: 'empty', wants: WANTS } as const;
const UNITS = { temperature: 'degC', salinity: 'psu', 'oxygen-mg-l': 'mg/L' } as const;
const QUANTITIES = ['temperature', 'salinity', 'oxygen-mg-l'] as const;

const TOLD = hatchery(
  [tank('l1', { ...EMPTY, bed: { kind: 'sand', depthM: 0.1 } }), tank('l2', { ...EMPTY, order: 1 })],
  {
    mappings: ['l1', 'l2'].flatMap((id, at) =>
      QUANTITIES.map((quantity, n) => ({
        ...{ sourceId: at * 10 + n + 1, channelId: `${id}.${quantity}`, unit: UNITS[quantity] },
        ...{ fromMs: 0, ruling: true, periodMs: EVERY_MS },
      })),
    ),
  },
);

/** Never quite still: a probe that does not move at all is taken for stuck. */
const valueAt = (channelId: string, atMs: number): number => {
  const wobble = ((atMs / EVERY_MS) % 7) * 0.01;
  if (channelId.endsWith('.salinity')) return 33 + wobble;
  if (channelId.endsWith('.oxygen-mg-l')) return 7 + wobble;
  return (channelId.startsWith('l1') && atMs >= HOT.fromMs && atMs < HOT.toMs ? 31 : 24) + wobble;
};

/** Batch A went through L2 and L1 four days before batch B came into L1. */
const written = () => {
  const { write, entries } = diary(START_MS);
  write('brought-in', 'l2', begun('A-1', 90_000), { atMs: START_MS });
  write('move', 'l2', { to: 'l1' }, { atMs: START_MS + 2 * DAY });
  write('dump', 'l1', { why: 'grown out' }, { atMs: START_MS + 3 * DAY });
  write('brought-in', 'l1', begun('B-1', 80_000), { atMs: START_MS + 4 * DAY });
  write('deaths', 'l1', { animals: 60_000, signs: 'on the bottom' }, { atMs: FOUND_MS });
  return entries;
};

peer('Chromium', noChromium)('looking back from deaths, and over earlier batches', () => {
  let room: BrowserHatchery;
  let page: Page;

  /** Days of readings and entries, in the order in which they came. */
  const live = (): void => {
    const due = [...written()];
    for (let atMs = START_MS; atMs < NOON_MS; atMs += EVERY_MS) {
      room.clock.isSet(atMs);
      const all = TOLD.mappings.map(({ channelId }) => channelId);
      room.hears(all.map((channelId) => ({ topic: topicOf(channelId), value: valueAt(channelId, atMs), atMs })));
      for (let next = due[0]; next !== undefined && next.atMs <= atMs; next = due[0]) {
        due.shift();
        const { by, ...entry } = next;
        const kept = room.gateway.log.write(entry, by);
        if (!kept.ok) throw new Error(JSON.stringify(kept.fault));
      }
    }
    room.clock.isSet(NOON_MS);
  };

  beforeAll(async () => {
    room = await openBrowserHatchery(TOLD, START_MS);
    live();
    page = await room.open('/day');
  }, 120_000);
  afterAll(async () => {
    expect(room.errors).toEqual([]);
    await room.close();
  });

  const goes = async (path: string): Promise<void> => {
    await page.goto(`${room.url}${path}`);
    await page.waitForSelector('main');
  };
  const sideways = (): Promise<number> => page.evaluate(() => document.documentElement.scrollWidth - innerWidth);

  it('goes from the deaths entry to the first hour, and from there to the review, with tank and time known', {
    timeout: 90_000,
  }, async () => {
    await page.getByRole('link', { name: 'What happened before?' }).first().click();
    await page.getByText('Look at the other tanks now.').waitFor();
    const order = await page.evaluate(() => {
      const top = (selector: string): number => document.querySelector(selector)?.getBoundingClientRect().top ?? 0;
      return top('.first-hour') < top('fieldset.pills');
    });
    expect(order).toBe(true);
    const seen = page.getByRole('group', { name: 'What was seen' });
    expect(await seen.locator('[aria-pressed="true"]').textContent()).toContain('60,000 dead');
    expect(await sideways()).toBeLessThanOrEqual(0);
    expect(await seriousViolations(page)).toEqual([]);
    await page.getByLabel('Who saw what first').fill('Ines, at the morning round');
    await page.getByRole('button', { name: 'Freeze the record' }).click();
    await page.locator('.review[data-ready]').waitFor();
    await page.locator('.review .strip-mean').first().waitFor();
    const words = ((await page.locator('.review').textContent()) ?? '').replaceAll(/\s+/g, ' ');
    expect(words).toContain('Before the deaths in L1');
    expect(words).toContain('L1: estimated oxygenated depth of the bed uncalibrated');
    expect(words).toContain('Nobody has looked at the layer of this bed yet');
    // Three hours at 31 °C over a limit of 27 °C, and the ramp of ten minutes on either side.
    const summed = page.locator('.review-strip', { hasText: 'degree-hours beyond the limit' });
    const degreeHours = Number(/L1 ([\d.]+)/.exec((await summed.textContent()) ?? '')?.[1]);
    expect(degreeHours).toBeGreaterThan(11.5);
    expect(degreeHours).toBeLessThan(12.8);
    expect(words).toContain('Ines, at the morning round');
    expect(await sideways()).toBeLessThanOrEqual(0);
    expect(await seriousViolations(page)).toEqual([]);
  });

  it('shows one cursor through all strips, and the value of each under it', { timeout: 60_000 }, async () => {
    const wide = await room.open(new URL(page.url()).pathname, WALL);
    const first = wide.locator('.review-stack .time-strip').first();
    await first.waitFor();
    await first.hover();
    const strips = await wide.locator('.review-stack .time-strip').count();
    expect(strips).toBeGreaterThan(4);
    expect(await wide.locator('.review-stack .strip-cursor').count()).toBe(strips);
    await wide.context().close();
  });

  it('stays as it was frozen, and says with its date what was written since', { timeout: 60_000 }, async () => {
    const address = new URL(page.url()).pathname;
    room.clock.isSet(NOON_MS + HOUR);
    const note = diary(NOON_MS + MINUTE).write('note', 'l1', { words: 'foam at nine' }, { atMs: FOUND_MS - HOUR });
    const { by, ...entry } = note;
    expect(room.gateway.log.write(entry, by).ok).toBe(true);
    await goes(address);
    await page.getByRole('heading', { name: 'Changed since it was frozen' }).waitFor();
    const later = page.getByText('13:00').or(page.getByText('14:00'));
    await later.first().waitFor();
    expect(await page.locator('.review-events').textContent()).not.toContain('foam at nine');
    await page.getByRole('button', { name: 'Freeze a new edition' }).click();
    await page.getByText('A new edition of an earlier review').waitFor();
    await page.locator('.review-events', { hasText: 'foam at nine' }).waitFor();
    await goes(address);
    await page.getByText('There is a newer edition').waitFor();
  });

  it('begins from larvae on the bottom on the page of the tank', { timeout: 60_000 }, async () => {
    await goes('/tanks/l1');
    await page.getByRole('link', { name: /^Larvae on the bottom/ }).click();
    const seen = page.getByRole('group', { name: 'What was seen' });
    await seen.waitFor();
    expect(await seen.locator('[aria-pressed="true"]').textContent()).toBe('Larvae on the bottom');
    const tanks = page.getByRole('group', { name: 'In these tanks' });
    expect(await tanks.locator('[aria-pressed="true"]').allTextContents()).toEqual(['L1']);
    await page.getByLabel('First seen dead, or on the bottom').fill('');
    await page.getByRole('button', { name: 'Freeze the record' }).click();
    await page.getByText('A day and a time, as on the wall.').waitFor();
  });

  it('lays the same stage of an earlier batch over this one, in any stretch of time', { timeout: 60_000 }, async () => {
    await goes('/history?tank=l1');
    await page.getByText(/^Earlier batches as larvae, beside B-1/).click();
    const pills = page.getByRole('group', { name: 'In the stage: larvae' }).getByRole('button');
    await pills.first().waitFor();
    expect((await pills.allTextContents()).map((text) => text.slice(0, 9))).toEqual(['A-1 in L1', 'A-1 in L2']);
    await pills.last().click();
    await page.getByRole('button', { name: 'Show the whole stage of B-1' }).click();
    await page.getByRole('listitem').filter({ hasText: 'A-1 in L2' }).first().waitFor();
    await page.locator('.time-strip .strip-beside').first().waitFor();
    expect(await sideways()).toBeLessThanOrEqual(0);
    expect(await seriousViolations(page)).toEqual([]);

    await page.getByLabel('Channel').selectOption('l1.temperature');
    await page.getByLabel('From', { exact: true }).fill('2026-05-04T03:00');
    await page.getByLabel('to', { exact: true }).fill('2026-05-04T02:00');
    await page.getByRole('button', { name: 'Show this time' }).click();
    await page.getByText('It ends before it begins: choose a later end.').waitFor();
    await page.getByLabel('to', { exact: true }).fill('2026-05-04T05:00');
    await page.getByRole('button', { name: 'Show this time' }).click();
    await page.getByText('Mon 4 May, 03:00 to Mon 4 May, 05:00').waitFor();
    const fetched = async (name: string): Promise<string> => {
      const href = await page.getByRole('link', { name }).getAttribute('href');
      return page.evaluate(async (url) => (await fetch(url)).text(), href ?? '');
    };
    const csv = await fetched('Every reading (CSV)');
    // Lisbon is an hour ahead of UTC in May: two hours, a reading every ten minutes, and the header.
    expect(csv.trimEnd().split('\r\n')).toHaveLength(1 + 12);
    expect(csv).toContain('2026-05-04T03:00:00');
    expect(await fetched('Its checksum')).toContain(createHash('sha256').update(csv).digest('hex'));
  });

  it('refuses to take out a tank with animals in a sentence, and says what is wrong with a site', {
    timeout: 60_000,
  }, async () => {
    await goes('/places');
    await page.getByRole('button', { name: 'Change L1' }).click();
    await page.getByRole('button', { name: 'Take L1 out' }).click();
    await page.getByRole('button', { name: 'Yes, take L1 out' }).click();
    await page.getByText(/“L1” cannot be taken out yet: the log says that B-1 is in it/).waitFor();
    await goes('/site');
    await page.getByLabel('Time zone').fill('Lisbon');
    await page.getByLabel('Every reading').fill('7');
    await page.getByRole('button', { name: 'Keep the change' }).click();
    await page.getByText('A time zone by name').waitFor();
    await page.getByText('Whole days, 30 or more, or nothing.').waitFor();
    await page.getByLabel('Time zone').fill('America/New_York');
    await page.getByLabel('Every reading').fill('800');
    await page.getByRole('button', { name: '°F' }).click();
    await page.getByRole('button', { name: '12 hours' }).click();
    await page.getByRole('button', { name: 'Keep the change' }).click();
    // Every page follows: New York is four hours behind UTC in May, and 24 °C are 75 °F.
    await goes('/tanks/l2');
    await page.locator('.channel-value', { hasText: /75\.\d/ }).waitFor();
    await goes('/history?tank=l2');
    await page
      .getByText(/\d:\d\d (am|pm)/)
      .first()
      .waitFor();
    const kept = await page.evaluate(async () => (await fetch('/api/v1/site')).json());
    const { body } = kept.site;
    expect(body).toMatchObject({ zone: 'America/New_York', temperatureUnit: 'F', hours: 12, keepReadingsDays: 800 });
  });

  it('still looks back at a tank that was taken out: its history, and a review of deaths while it was there', {
    timeout: 90_000,
  }, async () => {
    await goes('/places');
    await page.getByRole('button', { name: 'Change L2' }).click();
    await page.getByRole('button', { name: 'Take L2 out' }).click();
    await page.getByRole('button', { name: 'Yes, take L2 out' }).click();
    await page.getByRole('button', { name: 'Change L2' }).waitFor({ state: 'detached' });
    await goes('/history');
    const group = page.getByLabel('Place').locator('optgroup[label="Taken out of use"]');
    await group.waitFor({ state: 'attached' });
    expect(await group.locator('option').allTextContents()).toEqual([expect.stringMatching(/^L2, taken out /)]);
    await page.getByLabel('Place').selectOption('l2');
    await page.locator('.strip-mean').nth(2).waitFor();
    expect(await page.locator('.review-strip h3').first().textContent()).toContain('L2 temperature');
    expect(await seriousViolations(page)).toEqual([]);
    await goes('/reviews');
    await page.getByRole('group', { name: 'Taken out of use since' }).getByRole('button').click();
    await page.getByLabel('First seen dead, or on the bottom').fill('2026-05-04T03:00');
    await page.getByRole('button', { name: 'Freeze the record' }).click();
    await page.getByRole('heading', { name: 'Before the deaths in L2' }).waitFor();
    await page.locator('.review .strip-mean').first().waitFor();
  });
});
