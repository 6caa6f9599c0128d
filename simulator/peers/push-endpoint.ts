import { createECDH, createPublicKey, randomBytes, verify } from 'node:crypto';
import { once } from 'node:events';
import { createServer, type IncomingHttpHeaders, type ServerResponse } from 'node:http';
import { unseal } from './ece.js';

export type Pushed = {
  readonly headers: IncomingHttpHeaders;
  readonly body: Buffer;
  /** Decrypted with the phone's own key (RFC 8291). */
  readonly text: string;
  /** Whether the signature of the sender's identity holds for this endpoint (RFC 8292). */
  readonly isSigned: boolean;
};

export type PushEndpoint = {
  readonly subscription: { readonly endpoint: string; readonly p256dh: string; readonly auth: string };
  readonly received: readonly Pushed[];
  /** How it answers from now on; without, with 201. `hang` never answers. */
  answers(how: { readonly status: number; readonly headers?: Record<string, string> } | 'hang'): void;
  /** Resolves when so many messages have come. */
  has(count: number): Promise<void>;
  close(): Promise<void>;
};

/** A push service and a phone in one: takes messages on 127.0.0.1 and reads them as the phone would. */
export const openPushEndpoint = async (): Promise<PushEndpoint> => {
  const phone = createECDH('prime256v1');
  phone.generateKeys();
  const auth = randomBytes(16).toString('base64url');
  const received: Pushed[] = [];
  const waiting = new Set<() => void>();
  let how: Parameters<PushEndpoint['answers']>[0] = { status: 201 };
  const server = createServer((request, response) => {
    const chunks: Buffer[] = [];
    request.on('data', (chunk: Buffer) => chunks.push(chunk));
    request.on('end', () => {
      const body = Buffer.concat(chunks);
      const text = unseal(body, { privateKey: phone, authSecret: auth });
      received.push({
        headers: request.headers,
        body,
        text,
        isSigned: isSigned(request.headers, `http://${request.headers.host}`),
      });
      answer(response);
      for (const look of waiting) look();
    });
  });
  const answer = (response: ServerResponse): void => {
    if (how === 'hang') return;
    response.writeHead(how.status, how.headers).end();
  };
  server.listen(0, '127.0.0.1');
  await once(server, 'listening');
  const address = server.address();
  if (address === null || typeof address === 'string') throw new Error('no port');
  return {
    subscription: {
      endpoint: `http://127.0.0.1:${address.port}/push/asta`,
      p256dh: phone.getPublicKey('base64url'),
      auth,
    },
    received,
    answers: (next) => {
      how = next;
    },
    has: (count) =>
      new Promise((resolve) => {
        const look = (): void => {
          if (received.length < count) return;
          waiting.delete(look);
          resolve();
        };
        waiting.add(look);
        look();
      }),
    close: async () => {
      server.closeAllConnections();
      server.close();
      await once(server, 'close');
    },
  };
};

/** [RFC 8292 3] `vapid t=…, k=…`: a JWT signed with ES256 by the key in k, for the origin of the endpoint. */
export const isSigned = ({ authorization }: IncomingHttpHeaders, origin: string): boolean => {
  const [, token = '', key = ''] = /^vapid t=([\w.-]+), ?k=([\w-]+)$/.exec(authorization ?? '') ?? [];
  const [header = '', claims = '', signature = ''] = token.split('.');
  const { aud } = JSON.parse(Buffer.from(claims, 'base64url').toString() || '{}') as { readonly aud?: string };
  return aud === origin && isRightSignature(key, `${header}.${claims}`, signature);
};

/** ES256 with an uncompressed P-256 point as key. */
export const isRightSignature = (point: string, text: string, signature: string): boolean => {
  const bytes = Buffer.from(point, 'base64url');
  const jwk = {
    kty: 'EC',
    crv: 'P-256',
    x: bytes.subarray(1, 33).toString('base64url'),
    y: bytes.subarray(33, 65).toString('base64url'),
  };
  const key = createPublicKey({ key: jwk, format: 'jwk' });
  return verify('sha256', Buffer.from(text), { key, dsaEncoding: 'ieee-p1363' }, Buffer.from(signature, 'base64url'));
};
