import { createECDH } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { describe, expect, onTestFinished, test } from 'vitest';
import webPush from 'web-push';
import { buildPush, makeVapidKeys, pushTopic } from '../../../gateway/alerts/push.js';
import { seal, unseal } from '../../../simulator/peers/ece.js';
import { isRightSignature, openPushEndpoint } from '../../../simulator/peers/push-endpoint.js';
import { NIGHT_MS } from '../../support/ladder-night.js';
import { outgoing } from '../../support/outgoing.js';

type Vectors = {
  readonly rfc8291: Readonly<Record<string, string>>;
  readonly rfc8292: { readonly t: string; readonly k: string };
  readonly pushTopic: { readonly id: string; readonly topic: string };
};
const vectors = JSON.parse(readFileSync(new URL('../../fixtures/delivery.json', import.meta.url), 'utf8')) as Vectors;

const keys = makeVapidKeys();

const withEndpoint = async ({ limitMs = 5_000, now = () => NIGHT_MS } = {}) => {
  const endpoint = await openPushEndpoint();
  onTestFinished(endpoint.close);
  const ended: string[] = [];
  const phone = { ...endpoint.subscription, personId: 'asta', device: 'phone', madeMs: 0 };
  const subscriptions = {
    of: () => (ended.length === 0 ? [phone] : []),
    end: (_: string, __: number, why: string) => ended.push(why) > 0,
  };
  const push = buildPush({
    keys: () => keys,
    contact: () => 'mailto:watch@wrack-cove.example',
    subscriptions,
    now,
    limitMs,
  });
  return { endpoint, ended, push };
};

describe('encryption of a push message', () => {
  const { rfc8291 } = vectors;
  const field = (name: string): string => rfc8291[name] ?? '';

  test('the published message of RFC 8291 appendix A is read by the receiving end that these tests use', () => {
    const phone = createECDH('prime256v1');
    phone.setPrivateKey(field('ua_private'), 'base64url');
    const keys = { privateKey: phone, authSecret: field('auth_secret') };
    expect(unseal(Buffer.from(field('body'), 'base64url'), keys)).toBe(field('plaintext_utf8'));
  });

  test('and is made, octet for octet, by the library that sends, given the published keys and salt', () => {
    const ours = createECDH('prime256v1');
    ours.setPrivateKey(field('as_private'), 'base64url');
    const body = seal(field('plaintext_utf8'), {
      privateKey: ours,
      dh: field('ua_public'),
      authSecret: field('auth_secret'),
      salt: field('salt'),
    });
    expect(body.toString('base64url')).toBe(field('body'));
  });

  test('what the library seals with keys of its own, the phone of the vector opens', () => {
    const { cipherText } = webPush.encrypt(field('ua_public'), field('auth_secret'), 'L2 29.9', 'aes128gcm');
    const phone = createECDH('prime256v1');
    phone.setPrivateKey(field('ua_private'), 'base64url');
    // The types of the library say text; it is a buffer.
    expect(unseal(cipherText as unknown as Buffer, { privateKey: phone, authSecret: field('auth_secret') })).toBe(
      'L2 29.9',
    );
  });
});

describe('identity at the push service', () => {
  test('the published token of RFC 8292 section 2.4 holds by the check that these tests use', () => {
    const { t, k } = vectors.rfc8292;
    const [header = '', claims = '', signature = ''] = t.split('.');
    expect(isRightSignature(k, `${header}.${claims}`, signature)).toBe(true);
    expect(isRightSignature(k, `${header}.${claims}x`, signature)).toBe(false);
  });

  test('the topic is a hash: no tank’s name is told to a push service', () => {
    expect(pushTopic(vectors.pushTopic.id)).toBe(vectors.pushTopic.topic);
  });
});

describe('a push message', () => {
  test('arrives encrypted and signed, with an hour to live, high urgency and a topic, and holds all that the phone shows', async () => {
    const { endpoint, push } = await withEndpoint();
    expect(await push(outgoing({ token: 'signed' }))).toEqual({ kind: 'accepted', detail: '201' });
    const [got] = endpoint.received;
    expect(got?.headers).toMatchObject({
      ttl: '3600',
      urgency: 'high',
      topic: pushTopic(outgoing().subject),
      'content-encoding': 'aes128gcm',
    });
    expect(got?.isSigned).toBe(true);
    expect(JSON.parse(got?.text ?? '')).toMatchObject({
      title: 'L2: 29.9 °C, rising, 44 min left',
      faultId: outgoing().subject,
      token: 'signed',
      loud: true,
    });
  });

  test('a quiet note has normal urgency', async () => {
    const { endpoint, push } = await withEndpoint();
    await push(outgoing({ isCall: false }));
    expect(endpoint.received[0]?.headers.urgency).toBe('normal');
  });

  test('uses one token for a push service for hours, not one a message', async () => {
    const { endpoint, push } = await withEndpoint();
    await push(outgoing());
    await push(outgoing());
    expect(endpoint.received[0]?.headers.authorization).toBe(endpoint.received[1]?.headers.authorization);
  });

  test('that would be too long goes in its short form: never more than 4096 octets', async () => {
    const { endpoint, push } = await withEndpoint();
    const words = { ...outgoing().words, lines: ['long '.repeat(2_000)] };
    await push(outgoing({ words }));
    expect(endpoint.received[0]?.body.length).toBeLessThanOrEqual(4_096);
    expect(JSON.parse(endpoint.received[0]?.text ?? '')).toMatchObject({ body: outgoing().words.text });
  });
});

describe('a push service that does not take it', () => {
  test.each([404, 410])('answers %i: the subscription is dead and is taken away', async (status) => {
    const { endpoint, ended, push } = await withEndpoint();
    endpoint.answers({ status });
    expect(await push(outgoing())).toMatchObject({ kind: 'dead', code: 'subscription-gone' });
    expect(ended).toEqual([`answered ${status}`]);
    expect(await push(outgoing())).toMatchObject({ kind: 'dead', code: 'no-subscription' });
  });

  test('answers 413: the short form is tried once', async () => {
    const { endpoint, push } = await withEndpoint();
    endpoint.answers({ status: 413 });
    expect(await push(outgoing())).toMatchObject({ kind: 'dead', code: 'too-large' });
    expect(endpoint.received).toHaveLength(2);
  });

  test('answers 429 with Retry-After: waits at least that long', async () => {
    const { endpoint, push } = await withEndpoint();
    endpoint.answers({ status: 429, headers: { 'retry-after': '90' } });
    expect(await push(outgoing())).toEqual({
      kind: 'later',
      code: 'rate-limited',
      detail: '429',
      retryAfterMs: 90_000,
    });
  });

  test.each([500, 502, 503])('answers %i: later', async (status) => {
    const { endpoint, push } = await withEndpoint();
    endpoint.answers({ status });
    expect(await push(outgoing())).toMatchObject({ kind: 'later', code: 'server-trouble' });
  });

  test('refuses who we are: the token is made anew once', async () => {
    const { endpoint, push } = await withEndpoint();
    endpoint.answers({ status: 403 });
    expect(await push(outgoing())).toMatchObject({ kind: 'dead', code: 'identity-refused' });
    expect(endpoint.received).toHaveLength(2);
  });

  test('hangs: it is given up after the limit', async () => {
    const { endpoint, push } = await withEndpoint({ limitMs: 100 });
    endpoint.answers('hang');
    expect(await push(outgoing())).toMatchObject({ kind: 'later', code: 'timed-out' });
  });

  test('is not there, as without internet: later', async () => {
    const { endpoint, push } = await withEndpoint();
    await endpoint.close();
    onTestFinished(() => undefined);
    expect(await push(outgoing())).toMatchObject({ kind: 'later', code: 'no-connection', detail: 'ECONNREFUSED' });
  });
});
