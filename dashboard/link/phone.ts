import { waking } from './waking.js';

/** Why this browser cannot be woken by push; undefined when it could. */
export const pushMissing = (): string | undefined => {
  if (!window.isSecureContext) return 'This page was opened without https: a phone then refuses to be woken by it.';
  if (!('serviceWorker' in navigator) || !('PushManager' in window))
    return 'This browser cannot be woken. On some phones the page must first be put on the home screen.';
  return undefined;
};

/** Lets the worker rule over every page, so that a call is shown without any page open. */
export const startWorker = async (): Promise<ServiceWorkerRegistration | undefined> => {
  if (!('serviceWorker' in navigator)) return undefined;
  try {
    return await navigator.serviceWorker.register('/worker.js', { scope: '/', updateViaCache: 'none' });
  } catch {
    // Refused by the browser's settings: everything but push works all the same.
    return undefined;
  }
};

/** [RFC 4648 5] base64url to the bytes that a browser wants. */
const bytesOf = (text: string): Uint8Array<ArrayBuffer> => {
  const plain = atob(text.replaceAll('-', '+').replaceAll('_', '/'));
  return Uint8Array.from(plain, (letter) => letter.charCodeAt(0));
};

/** Subscribes this browser for a person; undefined when it is done, else what went wrong in a sentence. */
export const subscribePhone = async (personId: string, device: string): Promise<string | undefined> => {
  const missing = pushMissing();
  if (missing !== undefined) return missing;
  if ((await Notification.requestPermission()) !== 'granted')
    return 'This browser was told not to show calls: allow notifications for this page.';
  const key = await waking.pushKey();
  if (!key.ok) return key.fault.detail;
  const worker = await startWorker();
  if (worker === undefined) return 'This browser does not let the page run in the background.';
  try {
    const options = { userVisibleOnly: true, applicationServerKey: bytesOf(key.value.publicKey) };
    const { endpoint, keys } = (await worker.pushManager.subscribe(options)).toJSON();
    if (endpoint === undefined || keys?.p256dh === undefined || keys.auth === undefined)
      return 'The browser gave no address to push to.';
    const done = await waking.subscribe({ endpoint, keys: { p256dh: keys.p256dh, auth: keys.auth }, device, personId });
    return done.ok ? undefined : done.fault.detail;
  } catch {
    return 'The push service of this browser does not answer. Is there internet?';
  }
};

/** Leaves sentences with the worker, for the hour without network. */
export const keepOffline = (page: {
  readonly title: string;
  readonly lines: readonly string[];
  readonly savedAt: string;
}): void => {
  if (!('serviceWorker' in navigator)) return;
  void navigator.serviceWorker.ready.then(({ active }) => active?.postMessage({ kept: page }));
};
