import { execFile } from 'node:child_process';
import { promisify } from 'node:util';
import { expect, onTestFinished, test } from 'vitest';
import { noChromium, openChromium } from '../support/chromium.js';
import { startGatewayProcess } from '../support/gateway-process.js';
import { peer } from '../support/peer.js';
import { mosquittoPubMissing } from '../support/publishers.js';

const run = promisify(execFile);

peer('Chromium', noChromium)('a first start', () => {
  peer('mosquitto_pub', mosquittoPubMissing)('with nothing but the console and a browser', () => {
    test('goes from the printed code to a tank on the wall, by a line to paste and two clicks', async () => {
      const gateway = await startGatewayProcess();
      onTestFinished(() => gateway.close());
      const browser = await openChromium();
      onTestFinished(() => browser.close());
      const page = await browser.newPage({ viewport: { width: 1920, height: 1080 } });
      const thrown: string[] = [];
      page.on('pageerror', (error) => thrown.push(error.message));

      await page.goto(gateway.url());
      await page.getByText('Make the first manager.').waitFor();
      await page.getByLabel('One-time code').fill(gateway.firstCode() ?? '');
      await page.getByLabel('Name').fill('Ines');
      await page.getByLabel('Passphrase').fill('wet boots and warm larvae');
      await page.getByRole('button', { name: 'Make the first manager' }).click();

      await page.getByRole('link', { name: 'Boards' }).first().click();
      const line = (await page.locator('.publish-line').textContent()) ?? '';
      expect(line).toBe(
        `mosquitto_pub -h 127.0.0.1 -p ${gateway.brokerPort()} -q 1 -t tanks/tank-1/temperature -m 23.4`,
      );
      await run('sh', ['-c', line]);
      const source = page.locator('.source', { hasText: 'tanks/tank-1/temperature' });
      await source.waitFor();
      expect(await source.locator('.source-last').textContent()).toContain('23.4');

      // One: everything is filled in from the topic. Two: look at the room.
      await source.getByRole('button', { name: 'Name it' }).click();
      await page.getByText('Nothing waits for a name').waitFor();
      await page.getByRole('link', { name: 'Room' }).first().click();
      await page.locator('.label', { hasText: 'tank-1' }).filter({ hasText: '23.4°' }).waitFor();

      // A second probe of the same water says that it does not speak.
      await run('sh', ['-c', line.replace('tank-1/temperature', 'spare/temperature').replace('23.4', '23.6')]);
      await page.goto(`${gateway.url()}/sources`);
      const spare = page.locator('.source', { hasText: 'tanks/spare/temperature' });
      await spare.getByLabel('Tank').fill('tank-1');
      await spare.getByRole('button', { name: 'Name it' }).click();
      await spare
        .getByText(
          'A second probe beside tanks/tank-1/temperature, which speaks for the channel: this one is compared with it.',
        )
        .waitFor();
      expect(thrown).toEqual([]);
    });
  });
});
