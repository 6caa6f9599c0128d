import { isLoopback } from '../intake/board-access.js';

/** Where a request comes from and whom it says it speaks to. */
export type Peer = {
  /** Address of the other end of the connection itself, not of what a header claims. */
  readonly address: string | undefined;
  readonly host: string | undefined;
  readonly origin: string | undefined;
  readonly protocol: 'http' | 'https';
};

const LOOPBACK_NAMES = new Set(['localhost', '127.0.0.1', '[::1]']);

const hostname = (host: string): string => host.replace(/:\d+$/, '').toLowerCase();

const originHost = (origin: string): string | undefined => {
  try {
    return new URL(origin).host;
  } catch {
    return undefined;
  }
};

export type PeerFault = 'not-this-machine' | 'host-not-loopback' | 'origin-not-ours';

/**
 * In the demo nobody signs in, so only this machine is let in, under its own names: a page elsewhere that has its name
 * point here (DNS rebinding) gets nothing.
 */
export const demoPeerFault = ({ address, host, origin }: Peer): PeerFault | undefined => {
  if (!isLoopback(address)) return 'not-this-machine';
  if (host === undefined || !LOOPBACK_NAMES.has(hostname(host))) return 'host-not-loopback';
  if (origin === undefined) return undefined;
  const from = originHost(origin);
  return from !== undefined && LOOPBACK_NAMES.has(hostname(from)) && from === host ? undefined : 'origin-not-ours';
};

/** A browser names the page that a request comes from; only our own may change anything or open the feed. */
export const isOwnOrigin = ({ origin, host, protocol }: Peer, publicUrl: string | undefined): boolean =>
  origin === undefined || origin === `${protocol}://${host}` || origin === publicUrl;
