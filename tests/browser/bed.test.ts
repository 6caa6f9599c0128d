import { afterAll, beforeAll, expect, it } from 'vitest';
import { type BrowserHatchery, openBrowserHatchery } from '../support/browser-hatchery.js';
import { noChromium } from '../support/chromium.js';
import { hatchery, NOON_MS, tank } from '../support/hatchery.js';
import { peer } from '../support/peer.js';

const bed = { kind: 'sand', depthM: 0.12, limitDepthMm: 4, cleanedAtMs: NOON_MS - 2 * 86_400_000 } as const;

peer('Chromium', noChromium)('the bed of a broodstock tank, on a phone', () => {
  let room: BrowserHatchery;
  beforeAll(async () => {
    const broodstock = tank('b1', { stage: 'conditioning', regime: 'flow-through', bed });
    room = await openBrowserHatchery(hatchery([broodstock, tank('l1', { order: 1 })]), NOON_MS);
  });
  afterAll(async () => {
    await room.close();
  });

  const breathes = (): void => {
    const atMs = room.clock.now();
    room.hears([
      { topic: 'tanks/b1/temperature', value: 21, atMs },
      { topic: 'tanks/b1/conductivity', value: 44.3, atMs },
      { topic: 'tanks/b1/oxygen-mg-l', value: 6.8, atMs },
    ]);
  };

  it('shows no depth until somebody has looked; then the depth, its range, and the way to look again', {
    timeout: 60_000,
  }, async () => {
    breathes();
    const page = await room.open('/tanks/b1');
    await page.getByText(/No depth is shown before somebody has looked at the layer/).waitFor();
    expect(await page.getByText(/about .* mm/).count()).toBe(0);
    await page.getByRole('link', { name: 'Look at the bed' }).first().click();
    await page.getByRole('button', { name: 'Write it' }).click();
    await page
      .getByText(/Write down at least one thing that was seen/)
      .first()
      .waitFor();
    await page.getByLabel('Light layer over the black').fill('7');
    await page.getByRole('button', { name: 'Write it' }).click();
    await page
      .getByText(/Say how the layer was seen/)
      .first()
      .waitFor();
    await page.getByRole('button', { name: 'a core' }).click();
    await page.getByRole('group', { name: 'Siphons' }).getByRole('button', { name: 'showing', exact: true }).click();
    await page.getByRole('button', { name: 'Write it' }).click();
    await page
      .getByText(/written/i)
      .first()
      .waitFor();
    expect(room.gateway.keeping.state().hatchery.places.find(({ id }) => id === 'b1')?.bed?.calibration).toMatchObject({
      kind: 'core',
      depthMm: 7,
    });
    breathes();
    const again = await room.open('/tanks/b1');
    await again.getByText('about 7.0 mm').waitFor();
    await again.getByText(/to be kept above 4\.0 mm/).waitFor();
    await again.getByText('The next look will say how far off the reckoning was.').waitFor();
    expect(room.errors).toEqual([]);
  });

  it('is not asked about where there is none', async () => {
    const page = await room.open('/tanks/l1');
    await page.getByRole('heading', { name: 'L1', exact: true }).waitFor();
    expect(await page.getByRole('link', { name: 'Look at the bed' }).count()).toBe(0);
  });
});
