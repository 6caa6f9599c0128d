import { createHash, randomBytes } from 'node:crypto';
import { parseRetryAfterMs } from '../../rules/alerts/backoff.js';
import { isOutcome, post } from './request.js';
import { signPost } from './signature.js';
import { accepted, dead, later, type Outgoing, type Sender, usableUrl } from './way.js';

export type WebhookKey = { readonly keyId: string; readonly secret: string };

/** What is posted: codes and canonical numbers for a program, and the words for whoever reads its log. */
export const webhookBody = ({ notice, words, key, isCall, atMs, link }: Outgoing): string =>
  JSON.stringify({
    type: `nightwater.${notice.kind}`,
    id: key,
    time: new Date(atMs).toISOString(),
    wakes: isCall,
    title: words.title,
    text: words.text,
    notice,
    ...(link === undefined ? {} : { link }),
  });

/** The same for every try: the receiver may get a message twice, and can tell. */
export const idempotencyKey = (key: string): string => createHash('sha256').update(key).digest('base64url');

/** A signed HTTPS POST (RFC 9421, RFC 9530). Any 2xx within the limit is success; redirects are not followed. */
export const buildWebhook =
  (webhookKey: () => WebhookKey | undefined, now: () => number, limitMs = 10_000): Sender =>
  async (message) => {
    const url = usableUrl(message.address);
    if (url === undefined) return dead('address-unusable');
    const key = webhookKey();
    if (key === undefined) return dead('not-set-up');
    const body = webhookBody(message);
    const signed = signPost(url, body, {
      ...key,
      createdS: Math.floor(now() / 1000),
      nonce: randomBytes(12).toString('base64url'),
    });
    const headers = { ...signed, 'content-type': 'application/json', 'idempotency-key': idempotencyKey(message.key) };
    const answer = await post({ url, headers, body: Buffer.from(body), limitMs });
    if (isOutcome(answer)) return answer;
    const { status, retryAfter } = answer;
    const detail = String(status);
    if (status >= 200 && status < 300) return accepted(detail);
    if (status >= 300 && status < 400) return dead('redirected', detail);
    if (status === 410) return dead('subscription-gone', detail);
    const waitMs = retryAfter === undefined ? undefined : parseRetryAfterMs(retryAfter, now());
    return later(status === 429 ? 'rate-limited' : status >= 500 ? 'server-trouble' : 'refused', detail, waitMs);
  };
