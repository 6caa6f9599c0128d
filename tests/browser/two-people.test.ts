import { afterAll, beforeAll, expect, it } from 'vitest';
import { type BrowserHatchery, openBrowserHatchery } from '../support/browser-hatchery.js';
import { noChromium } from '../support/chromium.js';
import { hatchery, NOON_MS, tank } from '../support/hatchery.js';
import { peer } from '../support/peer.js';

const ID = '01KQSZ5M80000000000000000A';

peer('Chromium', noChromium)('two people at one thing', () => {
  let room: BrowserHatchery;
  beforeAll(async () => {
    room = await openBrowserHatchery(hatchery([tank('l1'), tank('l2', { order: 1 })]), NOON_MS);
    const fields = { words: 'six litres' };
    const written = room.gateway.log.write({ id: ID, atMs: NOON_MS, kind: 'note', placeId: 'l2', fields }, 'Ines');
    if (!written.ok) throw new Error('not written');
  });
  afterAll(async () => {
    await room.close();
  });

  it('correct the same entry: the second is shown what the first wrote, and nothing is lost', {
    timeout: 60_000,
  }, async () => {
    const path = `/write?kind=note&place=l2&corrects=${ID}`;
    const [ines, tomas] = [await room.open(path), await room.open(path)];
    for (const page of [ines, tomas]) {
      await page.waitForFunction(() => document.querySelector('textarea')?.value === 'six litres');
      await room.passes(page, 1_000);
    }
    await ines.getByLabel('In words').first().fill('seven litres');
    await ines.getByRole('button', { name: 'Write the correction' }).click();
    await ines.getByText('Written.').waitFor();

    await tomas.getByLabel('In words').first().fill('eight litres');
    await tomas.getByRole('button', { name: 'Write the correction' }).click();
    await tomas.getByText('Somebody corrected this entry').first().waitFor();
    await tomas.getByRole('button', { name: 'Look at it as it is now' }).click();
    await tomas.waitForFunction(() => document.querySelector('textarea')?.value === 'seven litres');
    await tomas.getByLabel('In words').first().fill('seven and a half litres');
    await tomas.getByRole('button', { name: 'Write the correction' }).click();
    await tomas.getByText('Written.').waitFor();

    const { written, ruling } = room.gateway.log.record();
    expect([...written.values()].map(({ fields }) => fields)).toEqual([
      { words: 'six litres' },
      { words: 'seven litres' },
      { words: 'seven and a half litres' },
    ]);
    expect(ruling.entries.map(({ fields }) => fields)).toEqual([{ words: 'seven and a half litres' }]);
  });

  it('change the same tank: the second is told, and may look before trying again', { timeout: 60_000 }, async () => {
    const [ines, tomas] = [await room.open('/places'), await room.open('/places')];
    for (const page of [ines, tomas]) {
      await page.getByRole('button', { name: 'Change L2' }).click();
      await page.getByLabel('Volume', { exact: true }).waitFor();
    }
    await ines.getByLabel('Volume', { exact: true }).fill('210');
    await ines.getByRole('button', { name: 'Keep the change' }).click();
    await ines.getByLabel('Volume', { exact: true }).waitFor({ state: 'detached' });
    await tomas.getByLabel('Volume', { exact: true }).fill('220');
    await tomas.getByRole('button', { name: 'Keep the change' }).click();
    await tomas.getByText('Somebody changed this place').waitFor();
    await tomas.getByRole('button', { name: 'Show theirs' }).click();
    await tomas.waitForFunction(() => [...document.querySelectorAll('input')].some(({ value }) => value === '210'));
    expect(room.errors).toEqual([]);
  });
});
