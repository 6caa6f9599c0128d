import type { IncomingMessage } from 'node:http';
import type { Access } from '../access/access.js';
import { type Caller, DEMO_CALLER } from '../access/caller.js';
import { COOKIE, parseCookie } from '../access/cookie.js';
import { demoPeerFault, isOwnOrigin, type Peer } from '../access/peer.js';
import { isLoopback } from '../intake/board-access.js';

export type Door = { readonly access: Access; readonly publicUrl?: string };

/** A proxy on this machine says how the browser came; nobody else is believed. */
const peerOf = (request: IncomingMessage): Peer => {
  const { remoteAddress: address, encrypted } = request.socket as IncomingMessage['socket'] & { encrypted?: boolean };
  const forwarded = request.headers['x-forwarded-proto'];
  const isBelieved = isLoopback(address) && forwarded === 'https';
  return {
    address,
    host: request.headers.host,
    origin: request.headers.origin,
    protocol: encrypted === true || isBelieved ? 'https' : 'http',
  };
};

/** Before the handshake: may this machine, and the page that it shows, open the feed at all. */
export const mayOpen = (request: IncomingMessage, { access, publicUrl }: Door): boolean => {
  const peer = peerOf(request);
  return access.demo ? demoPeerFault(peer) === undefined : isOwnOrigin(peer, publicUrl);
};

/** Who listens: by the cookie, by a token in the handshake, or by a bearer token. Every role may. */
export const listenerOf = (
  { headers, auth }: { readonly headers: IncomingMessage['headers']; readonly auth: Readonly<Record<string, unknown>> },
  access: Access,
): Caller | undefined => {
  if (access.demo) return DEMO_CALLER;
  const bearer = /^Bearer (\S+)$/i.exec(headers.authorization ?? '')?.[1];
  const token = typeof auth.token === 'string' ? auth.token : undefined;
  const secret = bearer ?? token ?? parseCookie(headers.cookie ?? '', COOKIE);
  return secret === undefined ? undefined : access.callerOf(secret);
};

/** The last sequence that the screen holds; what is no whole number is none. */
export const sinceOf = ({ since }: Readonly<Record<string, unknown>>): number | undefined =>
  typeof since === 'number' && Number.isSafeInteger(since) && since >= 0 ? since : undefined;
