/// <reference lib="webworker" />
import { actionsOf, bodyOf, CALL, DONE, NOT_DONE, type PushMessage, pageOf, parsePush } from './message.js';
import { type KeptPage, offlinePage } from './offline.js';

declare const self: ServiceWorkerGlobalScope;

const KEPT = 'nightwater-kept';
const KEPT_PAGE = '/kept/oxygen.json';

self.addEventListener('install', () => void self.skipWaiting());
self.addEventListener('activate', (event) => event.waitUntil(self.clients.claim()));

/** TypeScript's notification options know no actions, renotify, timestamp or vibration (Notifications API, living standard). */
type Shown = NotificationOptions & {
  readonly actions: readonly { readonly action: string; readonly title: string }[];
  readonly renotify: boolean;
  readonly timestamp: number;
  readonly vibrate?: readonly number[];
};

const show = (message: PushMessage, body = bodyOf(message), actions = actionsOf(message)): Promise<void> => {
  const options: Shown = {
    body,
    tag: message.tag,
    renotify: message.loud,
    requireInteraction: message.loud,
    silent: !message.loud,
    timestamp: message.atMs,
    actions,
    data: message,
    ...(message.loud ? { vibrate: [600, 200, 600, 200, 600] } : {}),
  };
  return self.registration.showNotification(message.title, options as NotificationOptions);
};

self.addEventListener('push', (event) => {
  const message = parsePush(event.data?.text() ?? '');
  // A browser asks that every push shows something.
  event.waitUntil(message === undefined ? self.registration.showNotification('Nightwater: open it') : show(message));
});

const answer = async (message: PushMessage, verb: string): Promise<void> => {
  const body = JSON.stringify({ token: message.token, verb, ...(verb === 'going' ? { minutes: 20 } : {}) });
  let done = false;
  try {
    const asked = await fetch('/api/v1/answers', {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body,
    });
    done = asked.ok;
  } catch {
    done = false;
  }
  await show({ ...message, loud: !done }, done ? (DONE[verb] ?? '') : NOT_DONE, done ? [] : actionsOf(message));
};

const openPage = async (message: PushMessage): Promise<void> => {
  await self.clients.openWindow(pageOf(message));
};

self.addEventListener('notificationclick', (event) => {
  const message = event.notification.data as PushMessage | undefined;
  event.notification.close();
  if (message === undefined) return;
  const opens = event.action === '' || event.action === CALL;
  event.waitUntil(opens ? openPage(message) : answer(message, event.action));
});

type Subscribing = ExtendableEvent & {
  readonly oldSubscription?: PushSubscription;
  readonly newSubscription?: PushSubscription;
};

/** [W3C Push API] the browser made another subscription, or wants one: the gateway is told. */
self.addEventListener('pushsubscriptionchange', (event) => {
  const { oldSubscription, newSubscription } = event as Subscribing;
  const renew = async (): Promise<void> => {
    const options = oldSubscription?.options ?? { userVisibleOnly: true };
    const fresh = newSubscription ?? (await self.registration.pushManager.subscribe(options));
    const { endpoint, keys } = fresh.toJSON();
    const body = JSON.stringify({ endpoint, keys, device: 'renewed by the browser' });
    await fetch('/api/v1/push/subscriptions', {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body,
    });
  };
  (event as ExtendableEvent).waitUntil(renew());
});

self.addEventListener('message', (event) => {
  const { kept } = event.data as { readonly kept?: KeptPage };
  if (kept === undefined) return;
  const keep = async (): Promise<void> => (await caches.open(KEPT)).put(KEPT_PAGE, new Response(JSON.stringify(kept)));
  event.waitUntil(keep());
});

const withoutNetwork = async (): Promise<Response> => {
  const found = await (await caches.open(KEPT)).match(KEPT_PAGE);
  const kept = found === undefined ? undefined : ((await found.json()) as KeptPage);
  return new Response(offlinePage(kept), { headers: { 'content-type': 'text/html; charset=utf-8' } });
};

/** Only pages: what they load and ask for is theirs to handle. */
self.addEventListener('fetch', (event) => {
  if (event.request.mode !== 'navigate') return;
  event.respondWith(fetch(event.request).catch(withoutNetwork));
});
