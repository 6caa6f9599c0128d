import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { ulidTimeMs } from '../../rules/log/ulid.js';
import { type BrowserHatchery, openBrowserHatchery } from '../support/browser-hatchery.js';
import { noChromium } from '../support/chromium.js';
import { hatchery, NOON_MS, tank } from '../support/hatchery.js';
import { peer } from '../support/peer.js';

const MINUTE = 60_000;

peer('Chromium', noChromium)('a phone that loses its connection', () => {
  let room: BrowserHatchery;
  beforeAll(async () => {
    room = await openBrowserHatchery(hatchery([tank('l1'), tank('l2', { order: 1 })]), NOON_MS);
  });
  afterAll(async () => {
    await room.close();
  });

  /** The pages to write on are fetched while there is a connection. */
  const fetchedAhead = async (page: Page): Promise<void> => {
    await page.waitForFunction(() => {
      const names = performance.getEntriesByType('resource').map(({ name }) => name);
      return names.some((name) => name.includes('/assets/near-'));
    });
    await page.waitForLoadState('networkidle');
  };

  /** From the tank's page: what was done, its figures, and the one button. */
  const writes = async (page: Page, kind: string, figures: Readonly<Record<string, string>>): Promise<void> => {
    await page.getByRole('navigation', { name: 'Pages' }).getByRole('link', { name: 'Day' }).click();
    await page.getByLabel('Write about').selectOption('l2');
    await page.getByRole('link', { name: kind, exact: true }).click();
    for (const [label, text] of Object.entries(figures)) await page.getByLabel(label).first().fill(text);
    await page.getByRole('button', { name: 'Write it' }).click();
  };

  it('keeps five entries, and each lands once, in order, with its time', { timeout: 60_000 }, async () => {
    const page = await room.open('/day');
    await page.getByLabel('Write about').waitFor();
    await room.passes(page, 1_000);
    await fetchedAhead(page);
    await page.context().setOffline(true);
    const entries: readonly (readonly [string, Readonly<Record<string, string>>])[] = [
      ['Feeding', { Volume: '6,4', 'Left before feeding': '12000' }],
      ['Water change', { 'Share of the water': '50' }],
      ['Note', { 'In words': 'foam on the water' }],
      ['Cleaning', { 'With what': 'brush' }],
      ['Note', { 'In words': 'foam gone' }],
    ];
    for (const [kind, figures] of entries) {
      await writes(page, kind, figures);
      if (kind === 'Cleaning') {
        // The first try lacks what was cleaned, and says so without a gateway.
        await page
          .getByText(/: this is missing; fill it in\.$/)
          .first()
          .waitFor();
        await page.getByRole('group', { name: 'What' }).getByRole('button', { name: 'tank', exact: true }).click();
        await page.getByRole('button', { name: 'Write it' }).click();
      }
      await page.getByText('Kept on this device.').waitFor();
    }
    await page.getByText('entries wait on this device').waitFor();
    expect(room.gateway.log.record().written.size).toBe(0);

    room.clock.isSet(NOON_MS + 40 * MINUTE);
    await page.context().setOffline(false);
    await page.getByText('entries wait on this device').waitFor({ state: 'detached' });
    await page.reload();
    await page.getByRole('navigation', { name: 'Pages' }).waitFor();

    const written = [...room.gateway.log.record().written.values()];
    expect(written.map(({ kind }) => kind)).toEqual(['feeding', 'water-change', 'note', 'cleaning', 'note']);
    expect(written[0]).toMatchObject({ placeId: 'l2', fields: { volumeL: 6.4, residualCellsMl: 12_000 } });
    const times = written.map(({ atMs }) => atMs);
    expect(times).toEqual(times.toSorted((a, b) => a - b));
    for (const { id, atMs } of written) {
      // Written around noon, although it arrived forty minutes later.
      expect(atMs - NOON_MS).toBeLessThan(5 * MINUTE);
      expect(ulidTimeMs(id)).toBe(atMs);
      expect(room.gateway.journal.log.byId(id)?.recordedMs).toBeGreaterThanOrEqual(NOON_MS + 40 * MINUTE);
    }
    expect(room.errors).toEqual([]);
  });

  it('shows an entry that the gateway refuses later, and lets nothing be lost behind it', {
    timeout: 60_000,
  }, async () => {
    const page = await room.open('/day');
    await page.getByLabel('Write about').waitFor();
    await room.passes(page, 1_000);
    await fetchedAhead(page);
    const before = room.gateway.log.record().written.size;
    await page.context().setOffline(true);
    await page.getByLabel('Write about').selectOption('l1');
    await page.getByRole('link', { name: 'Deaths', exact: true }).click();
    await page.getByLabel('How many').first().fill('12');
    await page.getByRole('button', { name: 'Write it' }).click();
    await page.getByText('Kept on this device.').waitFor();
    await writes(page, 'Note', { 'In words': 'gaping' });
    await page.getByText('Kept on this device.').waitFor();
    await page.context().setOffline(false);
    // No animals were ever written into L1: the deaths cannot stand, the note can.
    await page.getByText('could not be kept').waitFor();
    expect(room.gateway.log.record().written.size).toBe(before + 1);
    await page.getByRole('button', { name: 'Leave it out' }).click();
    await page.getByText('could not be kept').waitFor({ state: 'detached' });
  });
});
