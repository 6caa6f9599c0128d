import { createHash, createHmac } from 'node:crypto';

/** [RFC 9530 2] `sha-256=:…:` over the body as it is sent. */
export const contentDigest = (body: string | Uint8Array): string =>
  `sha-256=:${createHash('sha256').update(body).digest('base64')}:`;

export type Signing = {
  readonly keyId: string;
  readonly secret: string;
  readonly createdS: number;
  readonly nonce: string;
};

export type Signed = {
  readonly 'content-digest': string;
  readonly 'signature-input': string;
  readonly signature: string;
};

const COVERED = '("@method" "@authority" "@path" "content-digest" "content-type")';

/** [RFC 9421 2.5] the lines that are signed, each a component, the last the parameters themselves. */
export const signatureBase = (url: URL, digest: string, parameters: string): string =>
  [
    '"@method": POST',
    `"@authority": ${url.host.toLowerCase()}`,
    `"@path": ${url.pathname}`,
    `"content-digest": ${digest}`,
    '"content-type": application/json',
    `"@signature-params": ${parameters}`,
  ].join('\n');

/** [RFC 9421 3.3.3] HMAC-SHA256 over the base, in base64. */
export const hmacOf = (base: string, secret: string | Uint8Array): string =>
  createHmac('sha256', secret).update(base).digest('base64');

/** Headers that let the receiver tell that a JSON POST is ours and whole. */
export const signPost = (url: URL, body: string, { keyId, secret, createdS, nonce }: Signing): Signed => {
  const digest = contentDigest(body);
  const parameters = `${COVERED};created=${createdS};keyid="${keyId}";alg="hmac-sha256";nonce="${nonce}"`;
  const signature = hmacOf(signatureBase(url, digest, parameters), secret);
  return { 'content-digest': digest, 'signature-input': `sig1=${parameters}`, signature: `sig1=:${signature}:` };
};
