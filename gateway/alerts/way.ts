import type { Notice } from '../../rules/alerts/notice.js';
import type { ToCall } from '../../rules/alerts/numbers.js';
import type { Way } from '../../rules/alerts/person.js';
import type { NoticeWords } from '../../rules/words/notice.js';

/** One message as a way sends it. */
export type Outgoing = {
  /** The same for every try of the same message, so that the other end can tell. */
  readonly key: string;
  readonly personId: string;
  /** E-mail address, phone number or URL; empty for push. */
  readonly address: string;
  readonly notice: Notice;
  /** The fault that the person can answer for; absent for a summary or a drill. */
  readonly faultId?: string;
  readonly words: NoticeWords;
  /** Meant to wake. */
  readonly isCall: boolean;
  /** Where a person answers: signed for this fault and this person. Absent without an address of our own. */
  readonly link?: string;
  /** The token of that link, for a page that answers by itself. */
  readonly token?: string;
  /** Whom this person may telephone. */
  readonly call?: ToCall;
  /** What replaces what: messages of one fault share it. */
  readonly subject: string;
  readonly atMs: number;
};

/** What became of one try. Codes; the sentences are in rules/words/delivery.ts. */
export type Outcome =
  /** Taken by the next hand: not the same as read. */
  | { readonly kind: 'accepted'; readonly detail?: string }
  /** Will never go: the address is dead, or the message is refused for good. */
  | { readonly kind: 'dead'; readonly code: OutcomeCode; readonly detail?: string }
  /** May go later. */
  | { readonly kind: 'later'; readonly code: OutcomeCode; readonly retryAfterMs?: number; readonly detail?: string };

export const OUTCOME_CODES = [
  'not-set-up',
  'no-subscription',
  'subscription-gone',
  'too-large',
  'rate-limited',
  'identity-refused',
  'malformed',
  'refused',
  'server-trouble',
  'no-connection',
  'timed-out',
  'not-encrypted',
  'redirected',
  'modem-absent',
  'modem-no-sim',
  'modem-pin-refused',
  'modem-no-network',
  'modem-busy',
  'modem-error',
  'address-unusable',
  'lamp-away',
] as const;
export type OutcomeCode = (typeof OUTCOME_CODES)[number];

/** Sends one message and says what became of it; never throws for what the world does, never takes for ever. */
export type Sender = (message: Outgoing) => Promise<Outcome>;
export type Senders = { readonly [way in Way]?: Sender };

export const accepted = (detail?: string): Outcome => ({
  kind: 'accepted',
  ...(detail === undefined ? {} : { detail }),
});
export const dead = (code: OutcomeCode, detail?: string): Outcome => ({
  kind: 'dead',
  code,
  ...(detail === undefined ? {} : { detail }),
});
export const later = (code: OutcomeCode, detail?: string, retryAfterMs?: number): Outcome => ({
  kind: 'later',
  code,
  ...(detail === undefined ? {} : { detail }),
  ...(retryAfterMs === undefined ? {} : { retryAfterMs }),
});

const LOOPBACK = new Set(['127.0.0.1', '[::1]', 'localhost']);

/** HTTPS, or plain HTTP to this machine. */
export const usableUrl = (text: string): URL | undefined => {
  if (!URL.canParse(text)) return undefined;
  const url = new URL(text);
  const isSafe = url.protocol === 'https:' || (url.protocol === 'http:' && LOOPBACK.has(url.hostname));
  return isSafe && url.username === '' && url.password === '' ? url : undefined;
};
