import type { BrowserContext, Page, Worker } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { Gateway } from '../../gateway/gateway.js';
import { landingOf } from '../../gateway/landing-of.js';
import type { Alarm } from '../../rules/alarm/alarm.js';
import { openPushEndpoint, type PushEndpoint } from '../../simulator/peers/push-endpoint.js';
import { type BrowserHatchery, openNightHatchery, PHONE } from '../support/browser-hatchery.js';
import { noChromium } from '../support/chromium.js';
import { NIGHT_MS } from '../support/ladder-night.js';
import { peer } from '../support/peer.js';

const alarm: Alarm = {
  id: 'heater-stuck-on.l2.temperature.t1',
  subject: 'l2',
  finding: {
    condition: 'heater-stuck-on',
    placeId: 'l2',
    priority: 'high',
    sinceMs: NIGHT_MS,
    checks: ['heater-off-at-wall'],
  },
  life: { core: 'unack', inhibits: [] },
  activatedMs: NIGHT_MS,
  changedMs: NIGHT_MS,
};

peer('Chromium', noChromium)('a call on the phone beside the bed', () => {
  let room: BrowserHatchery;
  let gateway: Gateway;
  let context: BrowserContext;
  let page: Page;
  let push: PushEndpoint;
  let worker: Worker;

  /** Titles and actions of what the phone shows. */
  const shown = () =>
    page.evaluate(async () => {
      const registration = await navigator.serviceWorker.ready;
      return (await registration.getNotifications()).map((one) => ({
        title: one.title,
        body: one.body,
        actions: (one as unknown as { actions: { action: string; title: string }[] }).actions.map(({ title }) => title),
      }));
    });

  /** What the push service would hand to the browser, handed to it over the debugging protocol. */
  const deliver = async (data: string): Promise<void> => {
    const session = await context.newCDPSession(page);
    const registrations: { registrationId: string }[] = [];
    session.on('ServiceWorker.workerRegistrationUpdated', (event) => registrations.push(...event.registrations));
    await session.send('ServiceWorker.enable');
    await expect.poll(() => registrations.length).toBeGreaterThan(0);
    const registrationId = registrations[0]?.registrationId ?? '';
    await session.send('ServiceWorker.deliverPushMessage', { origin: gateway.url, registrationId, data });
    await session.detach();
  };

  beforeAll(async () => {
    room = await openNightHatchery();
    gateway = room.gateway;
    push = await openPushEndpoint();
    gateway.waking.desk.subscribe('asta', {
      endpoint: push.subscription.endpoint,
      keys: push.subscription,
      device: 'phone',
    });
    context = await room.browser.newContext({ viewport: PHONE });
    await context.grantPermissions(['notifications'], { origin: gateway.url });
    page = await context.newPage();
    const working = context.waitForEvent('serviceworker');
    await page.goto(gateway.url);
    worker = await working;
    await page.evaluate(() => navigator.serviceWorker.ready);
  });
  afterAll(async () => {
    await room.close();
    await push.close();
  });

  it('shows a push before any network, with its answers, and “I am going” from there reaches the gateway', async () => {
    const { journal, waking, keeping } = gateway;
    const effect = {
      do: 'alarm',
      atMs: NIGHT_MS,
      event: 'cond-on',
      alarm,
      deeds: ['annunciate', 'start-escalation'],
    } as const;
    journal.together(() => {
      journal.land(landingOf([effect]));
      waking.alerts.land([effect], keeping.state());
    });
    waking.alerts.landed();
    await push.has(1);
    const text = push.received[0]?.text ?? '';
    await context.setOffline(true);
    await deliver(text);
    await expect.poll(async () => (await shown()).length).toBe(1);
    const [call] = await shown();
    expect(call?.title).toMatch(/^l2/i);
    // On call is Asta, whose phone this is; the next on watch is Bela. A phone may show two actions only: the tap shows all.
    expect(call?.actions.slice(0, 2)).toEqual(['I am going', 'Pass on']);
    expect(JSON.parse(text)).toMatchObject({ call: { name: 'Bela', phone: '+15550100002' } });
    await context.setOffline(false);
    await worker.evaluate(async () => {
      const here = globalThis as unknown as ServiceWorkerGlobal;
      const [notification] = await here.registration.getNotifications();
      here.dispatchEvent(new here.NotificationEvent('notificationclick', { notification, action: 'going' }));
    });
    await expect.poll(() => waking.alerts.fault(alarm.id)?.standing).toBe('going');
    expect(waking.alerts.fault(alarm.id)).toMatchObject({ by: 'Asta', untilMs: room.clock.now() + 20 * 60_000 });
    await expect.poll(async () => (await shown())[0]?.body).toMatch(/others know that you are going/);
  });

  it('the link of a message opens a page that answers nothing by itself, and “I am here” when pressed', async () => {
    const { token } = JSON.parse(push.received[0]?.text ?? '') as { readonly token: string };
    const stranger = await room.browser.newContext({ viewport: { width: 390, height: 844 } });
    const link = await stranger.newPage();
    await link.goto(`${gateway.url}/answer?t=${token}`);
    await link.getByRole('button', { name: 'I am here' }).waitFor();
    await link.getByRole('heading', { name: /^L2/ }).waitFor();
    expect(await link.getByRole('link', { name: 'Call Bela' }).getAttribute('href')).toBe('tel:+15550100002');
    expect(await link.getByText('Asta is going').count()).toBe(1);
    expect(gateway.waking.alerts.fault(alarm.id)?.standing).toBe('going');
    await link.getByRole('button', { name: 'I am here' }).click();
    await expect.poll(() => gateway.waking.alerts.fault(alarm.id)?.standing).toBe('there');
    await stranger.close();
  });

  it('without network a page tells in which order the oxygen runs out', async () => {
    await page.goto(gateway.url);
    const kept = () =>
      page.evaluate(async () => (await (await caches.open('nightwater-kept')).match('/kept/oxygen.json'))?.text());
    await expect.poll(kept).toContain('L2');
    const { url } = gateway;
    await gateway.close();
    await page.goto(`${url}/`);
    expect(await page.locator('li').allTextContents()).toEqual(['L2: not known, look at it by hand']);
    expect(await page.locator('body').textContent()).toContain('Cut the power before you touch water');
  });
});

/** What a page's types do not know of the worker's own world. */
type ServiceWorkerGlobal = {
  readonly registration: ServiceWorkerRegistration;
  readonly NotificationEvent: new (kind: string, more: object) => Event;
  readonly dispatchEvent: (event: Event) => boolean;
};
