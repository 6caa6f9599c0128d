import { createHash } from 'node:crypto';
import webPush from 'web-push';
import { parseRetryAfterMs } from '../../rules/alerts/backoff.js';
import type { PushSubscription, PushSubscriptions } from '../journal/push-subscriptions.js';
import { isOutcome, type Posted, post } from './request.js';
import { accepted, dead, later, type Outcome, type Outgoing, type Sender, usableUrl } from './way.js';

/** Our identity at push services (RFC 8292). Made once; another key means subscribing every phone again. */
export type VapidKeys = { readonly publicKey: string; readonly privateKey: string };

export const makeVapidKeys = (): VapidKeys => webPush.generateVAPIDKeys();

export type PushParts = {
  readonly keys: () => VapidKeys;
  /** `mailto:` or `https:`, whom the push service may ask. */
  readonly contact: () => string;
  readonly subscriptions: Pick<PushSubscriptions, 'of' | 'end'>;
  readonly now: () => number;
  readonly limitMs?: number;
};

/** [RFC 8291 4] one record of 4096 octets holds 3993 octets of plain text. */
const MOST_OCTETS = 3_993;
const CALL_TTL_S = 3_600;
const DRILL_TTL_S = 600;
const TOKEN_MS = 12 * 3_600_000;
const RENEW_MS = 3_600_000;

/** [RFC 8030 5.4] at most 32 letters of base64url; a hash, because the push service sees it. */
export const pushTopic = (subject: string): string =>
  createHash('sha256').update(subject, 'utf8').digest('base64url').slice(0, 32);

/** What the phone shows before any network. The short form holds what cannot be left out. */
export const pushPayload = (
  { notice, words, subject, token, isCall, atMs, faultId, call }: Outgoing,
  short = false,
): string =>
  JSON.stringify({
    v: 1,
    kind: notice.kind,
    tag: pushTopic(subject),
    title: words.title,
    body: short ? words.text : words.lines.join('\n'),
    checks: short ? [] : words.checks.slice(0, 4),
    cautions: short ? [] : words.cautions.slice(0, 2),
    loud: isCall,
    atMs,
    ...(faultId === undefined ? {} : { faultId }),
    ...('alarmId' in notice ? { alarmId: notice.alarmId } : {}),
    ...('drillId' in notice ? { drillId: notice.drillId } : {}),
    ...(token === undefined ? {} : { token }),
    ...(call === undefined ? {} : { call: { name: call.name, phone: call.phone } }),
  });

const payloadThatFits = (message: Outgoing): string => {
  const whole = pushPayload(message);
  return Buffer.byteLength(whole) <= MOST_OCTETS ? whole : pushPayload(message, true);
};

/** Web Push to every phone that a person subscribed; taken when one of them took it. */
export const buildPush = (parts: PushParts): Sender => {
  const identity = buildIdentity(parts);
  return async (message) => {
    const phones = parts.subscriptions.of(message.personId);
    if (phones.length === 0) return dead('no-subscription');
    const outcomes = await Promise.all(phones.map((phone) => pushOne(parts, identity, phone, message)));
    const best =
      outcomes.find(({ kind }) => kind === 'accepted') ?? outcomes.find(({ kind }) => kind === 'later') ?? outcomes[0];
    return best ?? dead('no-subscription');
  };
};

/** A token of half a day for each push service, not one for each message. */
const buildIdentity = ({ keys, contact, now }: PushParts) => {
  const tokens = new Map<string, { readonly header: string; readonly untilMs: number }>();
  return {
    header: (origin: string): string => {
      const { publicKey, privateKey } = keys();
      const name = `${origin} ${publicKey}`;
      const kept = tokens.get(name);
      if (kept !== undefined && kept.untilMs - now() > RENEW_MS) return kept.header;
      const untilMs = now() + TOKEN_MS;
      const { Authorization: header } = webPush.getVapidHeaders(
        origin,
        contact(),
        publicKey,
        privateKey,
        'aes128gcm',
        Math.floor(untilMs / 1000),
      );
      tokens.set(name, { header, untilMs });
      return header;
    },
    forget: (origin: string): void => {
      tokens.delete(`${origin} ${keys().publicKey}`);
    },
  };
};

type Identity = ReturnType<typeof buildIdentity>;

const pushOne = async (
  parts: PushParts,
  identity: Identity,
  phone: PushSubscription,
  message: Outgoing,
): Promise<Outcome> => {
  const url = usableUrl(phone.endpoint);
  if (url === undefined) return dead('address-unusable');
  const send = (text: string) => postTo(parts, identity, { url, phone, message, text });
  let answer = await send(payloadThatFits(message));
  if (!isOutcome(answer) && answer.status === 413) answer = await send(pushPayload(message, true));
  if (!isOutcome(answer) && (answer.status === 401 || answer.status === 403)) {
    identity.forget(url.origin);
    answer = await send(payloadThatFits(message));
  }
  if (isOutcome(answer)) return answer;
  if (answer.status === 404 || answer.status === 410)
    parts.subscriptions.end(phone.endpoint, parts.now(), `answered ${answer.status}`);
  return outcomeOf(answer, parts.now());
};

type Pushing = {
  readonly url: URL;
  readonly phone: PushSubscription;
  readonly message: Outgoing;
  readonly text: string;
};

const postTo = async (
  parts: PushParts,
  identity: Identity,
  { url, phone, message, text }: Pushing,
): Promise<Posted | Outcome> => {
  const { endpoint, p256dh, auth } = phone;
  let body: Buffer;
  let headers: Record<string, string>;
  try {
    const ttl = message.notice.kind === 'drill' ? DRILL_TTL_S : CALL_TTL_S;
    const request = webPush.generateRequestDetails({ endpoint, keys: { p256dh, auth } }, text, {
      TTL: ttl,
      contentEncoding: 'aes128gcm',
      urgency: message.isCall ? 'high' : 'normal',
      topic: pushTopic(message.subject),
    });
    body = request.body;
    const { 'Content-Length': _length, ...others } = request.headers;
    headers = Object.fromEntries(Object.entries(others).map(([name, value]) => [name, String(value)]));
  } catch (error) {
    return dead('malformed', error instanceof Error ? error.message : String(error));
  }
  const authorization = identity.header(url.origin);
  return post({ url, headers: { ...headers, authorization }, body, limitMs: parts.limitMs ?? 10_000 });
};

/** What an answer demands (RFC 8030 sections 5 and 7.3; for 410, common practice). */
const outcomeOf = ({ status, retryAfter }: Posted, nowMs: number): Outcome => {
  const detail = String(status);
  if (status >= 200 && status < 300) return accepted(detail);
  if (status === 404 || status === 410) return dead('subscription-gone', detail);
  if (status === 413) return dead('too-large', detail);
  if (status === 401 || status === 403) return dead('identity-refused', detail);
  const waitMs = retryAfter === undefined ? undefined : parseRetryAfterMs(retryAfter, nowMs);
  if (status === 429) return later('rate-limited', detail, waitMs);
  if (status >= 500) return later('server-trouble', detail, waitMs);
  return dead(status >= 300 && status < 400 ? 'redirected' : 'malformed', detail);
};
