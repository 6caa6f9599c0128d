/** Why a broker cannot be opened at all: the start ends with its sentence. */
export type BrokerFault =
  | { readonly code: 'port-taken'; readonly host: string; readonly port: number }
  | { readonly code: 'port-forbidden'; readonly host: string; readonly port: number }
  | { readonly code: 'address-not-here'; readonly host: string; readonly port: number }
  | { readonly code: 'listen-failed'; readonly host: string; readonly port: number; readonly reason: string }
  | { readonly code: 'broker-url'; readonly part: 'form' | 'protocol' };

/** Why the link to an external broker is down, or what is to be known about one that is up again. */
export const LINK_REASONS = [
  'refused',
  'name-not-found',
  'unreachable',
  'certificate',
  'not-authorized',
  'subscription-refused',
  'commit-failed',
  'lost',
  'session-new',
] as const;
export type LinkReason = (typeof LINK_REASONS)[number];
