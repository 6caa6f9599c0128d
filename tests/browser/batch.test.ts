import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { AlarmPicture } from '../../rules/alarm/alarm.js';
import { isBalanced, lotsIn } from '../../rules/log/book.js';
import { type Entry, isKind } from '../../rules/log/entry.js';
import { stockSteps } from '../../rules/log/stock.js';
import { entryNames } from '../../rules/words/entry-name.js';
import { capital, stageName } from '../../rules/words/name.js';
import { readBoards, startHatchery, stepHatchery } from '../../simulator/hatchery-step.js';
import { placeName } from '../../simulator/probe.js';
import { BATCH, type BatchDays, batchDays } from '../../simulator/stories/batch-days.js';
import { oneBatch, oneBatchTold } from '../../simulator/world/one-batch.js';
import { type BrowserHatchery, openBrowserHatchery, type Reading, topicOf } from '../support/browser-hatchery.js';
import { noChromium } from '../support/chromium.js';
import { fillFields, press } from '../support/entry-hands.js';
import { peer } from '../support/peer.js';

const MINUTE = 60_000;
const SEED = 7;
/** What is not at stake here is written without a browser: food, and work that was declared with it. */
const BEHIND = ['feeding', 'work', 'work-longer', 'work-end', 'water-change'] as const;

peer('Chromium', noChromium)('a batch from the sand bed to post-set seed, written by hand on a phone', () => {
  const days = batchDays(Date.UTC(2026, 4, 4));
  let room: BrowserHatchery;
  let page: Page;
  beforeAll(async () => {
    room = await openBrowserHatchery(oneBatchTold(oneBatch(SEED)), days.startMs);
    page = await room.open('/day');
  });
  afterAll(async () => {
    await room.close();
  });

  it('walks through all its stages, and stock, limits and record follow', { timeout: 600_000 }, async () => {
    const water = buildWater(days);
    const desk = buildDesk(
      () => room,
      () => page,
    );
    const seen: string[] = [];
    const sounded = new Set<string>();
    room.gateway.keeping.onLanded(({ changes }) => {
      for (const change of changes)
        if (change.kind === 'alarm' && sounds(change.alarm)) sounded.add(said(change.alarm));
    });
    for (const entry of days.entries) {
      water.until(entry.atMs, (readings) => {
        room.clock.isSet(Math.max(readings.at(-1)?.atMs ?? 0, room.clock.now()));
        room.hears(readings);
      });
      room.clock.isSet(Math.max(entry.atMs, room.clock.now()));
      await desk.write(entry);
      const stage = await stageOnScreen(entry, page, room);
      if (stage !== undefined && seen.at(-1) !== stage) seen.push(stage);
    }
    expect(seen).toEqual(['broodstock', 'spawning', 'embryos', 'larvae', 'setting', 'post-set seed']);

    const { ruling, stock } = room.gateway.log.record();
    expect([...stockSteps(ruling.entries)].every(({ book }) => isBalanced(book))).toBe(true);
    expect(lotsIn(stock.book, 'p1')).toMatchObject([{ batchId: BATCH, stage: 'post-set', animals: 990_000 }]);

    // What was let out and filled again on purpose raised nothing; the tray that was overheated did, and no swap.
    expect([...sounded]).toEqual(['t1 above-ceiling']);
    const swap = (atMs: number): boolean => days.swaps.some(({ fromMs, toMs }) => fromMs <= atMs && atMs < toMs);
    const ceiling = room.gateway.journal.alarms.between(days.startMs, days.endMs).filter(isCeiling);
    expect(ceiling.filter(({ activatedMs }) => swap(activatedMs))).toEqual([]);

    await page.goto(`${room.url}/batches/${BATCH}`);
    await page.getByText('Every animal accounted for').waitFor();
    await page.getByText('990,000 (').first().waitFor();
    await page.goto(`${room.url}/papers`);
    const csv = await page.getByRole('link', { name: 'Export the log (CSV)' }).getAttribute('href');
    const exported = await page.evaluate(async (url) => (await fetch(url)).text(), csv ?? '');
    expect(exported.split('\r\n')).toHaveLength(room.gateway.log.record().written.size + 2);
    expect(room.errors).toEqual([]);
  });
});

/** Waits for somebody, and nothing holds it back. */
const sounds = ({ state, inhibit }: AlarmPicture): boolean => state === 'unack' && inhibit === undefined;
const said = ({ finding }: AlarmPicture): string => `${finding.placeId} ${finding.condition}`;
const isCeiling = ({ finding }: AlarmPicture): boolean => finding.condition === 'above-ceiling';

const GROUP_MS = 30 * MINUTE;

/** The simulated water as its boards tell it: the tray every minute, the others every five, in groups of half an hour. */
const buildWater = (days: BatchDays) => {
  const plant = oneBatch(SEED);
  let state = startHatchery(plant, days.startMs);
  return {
    until: (toMs: number, hear: (readings: readonly Reading[]) => void): void => {
      let group: Reading[] = [];
      while (state.atMs + MINUTE <= toMs) {
        const next = days.schedule(state.atMs + MINUTE);
        const read = readBoards(plant, stepHatchery(plant, state, 60, days.schedule(state.atMs)), next);
        state = read.state;
        const { atMs } = state;
        const samples = Object.values(read.steps).flatMap(({ batches }) => batches.flatMap((batch) => batch.samples));
        for (const { probe, value } of samples) {
          const topic = topicOf(`${placeName(probe.place)}.${probe.quantity}`);
          if (typeof value === 'number') group.push({ topic, value, atMs });
        }
        if (atMs % GROUP_MS !== 0) continue;
        hear(group);
        group = [];
      }
      if (group.length > 0) hear(group);
    },
  };
};

/** Writes each entry of the story on the page that a person would use for it. */
const buildDesk = (roomOf: () => BrowserHatchery, pageOf: () => Page) => {
  let runId = '';
  const go = async (path: string): Promise<Page> => {
    const [room, page] = [roomOf(), pageOf()];
    await page.goto(`${room.url}${path}`);
    await page.getByRole('navigation', { name: 'Pages' }).waitFor();
    await room.passes(page, 1_000);
    return page;
  };
  const written = (page: Page): Promise<void> => page.getByText('Written.').first().waitFor();

  const plain = async (entry: Entry): Promise<void> => {
    const page = await go(`/write?place=${entry.placeId}&kind=${entry.kind}`);
    await page.getByRole('heading', { name: capital(entryNames().kind[entry.kind]) }).waitFor();
    await fillFields(page, entry, NOT_ASKED[entry.kind] ?? []);
    await page.getByRole('button', { name: 'Write it' }).click();
    await written(page);
  };
  const sheet = async (entry: Entry<'drain-down'>): Promise<void> => {
    const { fields } = entry;
    const page = await go(`/sheets/${entry.placeId}`);
    for (const screen of fields.screensUm ?? []) await press(page, 'Screens, µm', String(screen));
    const byHand = ['screensUm', 'end', 'placeId', 'to', 'stage', 'accept', 'startedMs'];
    await fillFields(page, entry, byHand);
    const end = fields.end === 'back-in' ? `back in ${entry.placeId?.toUpperCase()}` : entryNames().end[fields.end];
    await press(page, 'Where are they now?', end);
    if (fields.end === 'to') await page.getByLabel('Into').selectOption(fields.placeId ?? '');
    if (fields.end === 'pooled') await page.getByLabel('Together with').selectOption(fields.placeId ?? '');
    for (const [n, part] of (fields.to ?? []).entries()) {
      await page.getByLabel('Into').nth(n).selectOption(part.placeId);
      await page
        .getByRole('group', { name: 'How many into which tank?' })
        .getByLabel('How many')
        .nth(n)
        .fill(String(part.animals));
    }
    if (fields.stage !== undefined) {
      await press(page, /another stage/, capital(stageName(fields.stage)));
      if (fields.accept === true) await press(page, /become wider/, 'Take the wider limits');
    }
    await page.getByRole('button', { name: 'Write the sheet' }).click();
    await written(page);
  };
  const plan = async (entry: Entry<'run-plan'>): Promise<void> => {
    const page = await go('/runs');
    await page.getByLabel('Tray').selectOption(entry.placeId ?? '');
    await fillFields(page, entry, ['latestEndMs']);
    await page.getByText('Warm phases at 26.6 °C').waitFor();
    await page.getByRole('button', { name: 'Start the run' }).click();
    await page.getByRole('heading', { name: /spawning run/ }).waitFor();
    runId = new URL(page.url()).pathname.split('/').at(-1) ?? '';
  };
  const inRun = async (entry: Entry): Promise<void> => {
    const page = await go(`/runs/${runId}`);
    if (isKind(entry, 'run-phase')) {
      await page.getByRole('button', { name: `${capital(entry.fields.phase)} begins` }).click();
      return written(page);
    }
    const [title, button] = RUN_FORMS[entry.kind] ?? ['', ''];
    await page.locator('summary', { hasText: title }).click();
    await fillFields(page, entry, ['runId']);
    await page.getByRole('button', { name: button }).click();
    await (isKind(entry, 'run-end') ? page.getByText('(ended)').waitFor() : written(page));
  };
  return {
    write: async (entry: Entry): Promise<void> => {
      const room = roomOf();
      if ((BEHIND as readonly string[]).includes(entry.kind)) {
        const { by, ...sent } = entry;
        const kept = room.gateway.log.write(sent, by);
        if (!kept.ok) throw new Error(JSON.stringify(kept.fault));
        return;
      }
      if (isKind(entry, 'drain-down')) return sheet(entry);
      if (isKind(entry, 'run-plan')) return plan(entry);
      if (isKind(entry, 'run-phase', 'run-spawner', 'run-eggs', 'run-end')) return inRun(entry);
      if (isKind(entry, 'round')) {
        const page = await go('/round');
        await page.getByRole('button', { name: 'All seen' }).click();
        return written(page);
      }
      return plain(entry);
    },
  };
};

/** A batch is not asked for where there is only one; nor the run, which the page itself belongs to. */
const NOT_ASKED: { readonly [kind: string]: readonly string[] } = {
  'eggs-stocked': ['runId'],
  count: ['batchId'],
  sample: ['batchId'],
};

const RUN_FORMS: { readonly [kind: string]: readonly [title: string, button: string] } = {
  'run-spawner': ['Who spawned', 'Write the spawner'],
  'run-eggs': ['Eggs', 'Write the eggs'],
  'run-end': ['End of the run', 'End the run'],
};

/** Where animals have just been put, what the tank's page says they are; their limits stand beside their channels. */
const stageOnScreen = async (entry: Entry, page: Page, room: BrowserHatchery): Promise<string | undefined> => {
  const to = isKind(entry, 'drain-down') && entry.fields.stage !== undefined ? entry.fields.placeId : undefined;
  const put = isKind(entry, 'brought-in', 'eggs-stocked', 'stage') ? entry.placeId : to;
  const place = room.gateway.keeping.state().hatchery.places.find(({ id }) => id === put);
  if (place?.stage === undefined) return undefined;
  await page.goto(`${room.url}/tanks/${place.id}`);
  await page
    .getByText(`${stageName(place.stage)}, day`)
    .first()
    .waitFor();
  await page.getByText('limit not confirmed').first().waitFor();
  return stageName(place.stage);
};
