import type { LinkReason } from '../../rules/wire/broker.js';
import type { LinkChange } from './delivery.js';

/** Tells each change of the link once, and since when it is as it is. */
export type Link = {
  readonly up: (reason?: LinkReason) => void;
  readonly down: (reason: LinkReason) => void;
};

/** Before the first connection the link is neither: the first failure or success is told. */
export const watchLink = (now: () => number, tell: (change: LinkChange) => void): Link => {
  let last: LinkChange | undefined;
  const change = (next: LinkChange): void => {
    last = next;
    tell(next);
  };
  return {
    up: (reason) => {
      if (last?.broker !== 'up') change({ broker: 'up', atMs: now(), ...(reason === undefined ? {} : { reason }) });
    },
    down: (reason) => {
      const since = last?.broker === 'down' ? last.atMs : now();
      // "Lost" is the weakest reason: it does not replace one that says what to do.
      if (last?.broker === 'down' && (last.reason === reason || reason === 'lost')) return;
      change({ broker: 'down', atMs: since, reason });
    },
  };
};

const BY_CODE: Readonly<Record<string, LinkReason>> = {
  ECONNREFUSED: 'refused',
  ENOTFOUND: 'name-not-found',
  EAI_AGAIN: 'name-not-found',
  EHOSTUNREACH: 'unreachable',
  ENETUNREACH: 'unreachable',
  ETIMEDOUT: 'unreachable',
  // MQTT 3.1.1 table 3.1 and MQTT 5.0 section 3.2.2.2
  4: 'not-authorized',
  5: 'not-authorized',
  134: 'not-authorized',
  135: 'not-authorized',
};
const CERTIFICATE = /^(CERT_|ERR_TLS_|ERR_SSL_|DEPTH_ZERO_|SELF_SIGNED_|UNABLE_TO_(GET|VERIFY))/;

/** What an error of the connection means, from the code of the system, of TLS, or of MQTT. */
export const linkReasonOf = (error: Error & { readonly code?: string | number }): LinkReason => {
  const code = String(error.code ?? '');
  if (CERTIFICATE.test(code)) return 'certificate';
  return (Object.hasOwn(BY_CODE, code) ? BY_CODE[code] : undefined) ?? 'lost';
};
