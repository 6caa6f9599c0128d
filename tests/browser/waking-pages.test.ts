import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { Gateway } from '../../gateway/gateway.js';
import { openScriptedModem, type ScriptedModem } from '../../simulator/peers/scripted-modem.js';
import { type BrowserHatchery, openNightHatchery } from '../support/browser-hatchery.js';
import { noChromium } from '../support/chromium.js';
import { peer } from '../support/peer.js';

peer('Chromium', noChromium)('what a manager sets about waking', () => {
  let room: BrowserHatchery;
  let gateway: Gateway;
  let page: Page;
  let modem: ScriptedModem;

  beforeAll(async () => {
    room = await openNightHatchery();
    gateway = room.gateway;
    modem = await openScriptedModem();
    page = await room.open('/');
  });
  afterAll(async () => {
    await room.close();
    await modem.close();
  });

  it('the modem with the PIN of its card, tried at once; the PIN is never shown again', {
    timeout: 60_000,
  }, async () => {
    modem.plays({ card: '+CPIN: SIM PIN', pin: '2468' });
    await page.goto(`${gateway.url}/ways-out`);
    const form = page.locator('form').filter({ hasText: 'PIN of the card' });
    await form.getByLabel('Port').fill(modem.path);
    await form.getByLabel('PIN of the card').fill('2468');
    await form.getByRole('button', { name: 'Save' }).click();
    await page.getByText('One is kept').first().waitFor();
    await page.getByRole('button', { name: 'Send a test text now' }).click();
    await page.getByText('It was taken. That is not the same as heard').first().waitFor();
    expect(modem.texts.map(({ number }) => number)).toEqual(['+15550100001']);
    expect(await form.getByLabel('PIN of the card').inputValue()).toBe('');
    expect(await page.content()).not.toContain('2468');
  });

  it('a way that cannot work is told in a sentence, with what to do', { timeout: 60_000 }, async () => {
    modem.plays({ network: '+CREG: 0,2' });
    await page.getByRole('button', { name: 'Ring now' }).click();
    await page.getByText('The modem has no network: move its antenna').waitFor();
    await page.getByRole('button', { name: 'Send a test mail now' }).click();
    await page.getByText('This way is not set up yet: fill it in here first').waitFor();
  });

  it('a ladder: what cannot be climbed is refused, what can is kept', { timeout: 60_000 }, async () => {
    await page.goto(`${gateway.url}/ladders`);
    await page.getByRole('button', { name: 'Change this ladder' }).click();
    const first = page.getByLabel('After the alarm').first();
    await first.fill('5');
    await page.getByRole('button', { name: 'Save' }).click();
    await page.getByText('night, high priority: each step must come later than the one before it').waitFor();
    await first.fill('1');
    await page.getByRole('button', { name: 'Save' }).click();
    await expect.poll(() => gateway.waking.desk.policies().body.night.high?.steps[0]?.afterMs).toBe(60_000);
  });

  it('a holiday: the watch that it empties is told loudly', { timeout: 60_000 }, async () => {
    await page.goto(`${gateway.url}/watch`);
    const form = page.locator('form').filter({ hasText: 'Is away' });
    await form.getByLabel('Who').selectOption('asta');
    await form.getByLabel('From').fill('2026-05-04T02:00');
    await form.getByLabel('To').fill('2026-05-04T09:00');
    await form.getByRole('button', { name: 'Is away' }).click();
    await form.getByRole('button', { name: 'Add' }).click();
    await page.getByRole('alert').filter({ hasText: 'Nobody is on call now' }).waitFor();
    await page.getByText('is away, Mon 4 May, 02:00 to Mon 4 May, 09:00').waitFor();
  });
});
