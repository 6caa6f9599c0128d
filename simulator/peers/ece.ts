import type { ECDH } from 'node:crypto';
import ece from 'http_ece';

/** The receiving end's own keys and secret (RFC 8291 section 3.1); `dh` and `salt` only to seal what was sealed before. */
export type Keys = {
  readonly privateKey: ECDH;
  readonly authSecret: string;
  readonly dh?: string;
  readonly salt?: string;
};

/** Opens a body of content coding aes128gcm (RFC 8188). */
export const unseal = (body: Buffer, keys: Keys): string =>
  ece.decrypt(body, { version: 'aes128gcm', ...keys }).toString('utf8');

/** Seals a text in one record of 4096 octets. */
export const seal = (text: string, keys: Keys): Buffer =>
  ece.encrypt(Buffer.from(text), { version: 'aes128gcm', rs: 4096, ...keys });
