/** The part of http_ece that the tests use: the receiving end of RFC 8188 and RFC 8291. */
declare module 'http_ece' {
  import type { ECDH } from 'node:crypto';

  type Parameters = {
    readonly version: 'aes128gcm';
    readonly privateKey: ECDH;
    readonly dh?: string;
    readonly authSecret: string;
    readonly salt?: string;
    readonly rs?: number;
  };
  const ece: {
    decrypt(body: Buffer, parameters: Parameters): Buffer;
    encrypt(text: Buffer, parameters: Parameters): Buffer;
  };
  export = ece;
}
