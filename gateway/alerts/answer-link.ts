import { createHmac, randomBytes, timingSafeEqual } from 'node:crypto';
import type { Journal } from '../journal/journal.js';

/** What a signed link allows: one person, one fault, until then. */
export type LinkClaim = { readonly faultId: string; readonly personId: string; readonly untilMs: number };

export type AnswerLinks = {
  make(claim: LinkClaim): string;
  /** Undefined when it is not ours, was changed, or is over. */
  read(token: string, nowMs: number): LinkClaim | undefined;
};

/** In `meta`: what the links are signed with. */
const KEY = 'answer-link-key';

const keyOf = ({ meta }: Pick<Journal, 'meta'>): Buffer => {
  const kept = meta.get(KEY);
  if (kept !== undefined) return Buffer.from(kept, 'base64url');
  const fresh = randomBytes(32);
  meta.set(KEY, fresh.toString('base64url'));
  return fresh;
};

/** Longest a link is good for: as long as a ladder lasts. */
export const LINK_MS = 4 * 3_600_000;

export const buildAnswerLinks = (journal: Pick<Journal, 'meta'>): AnswerLinks => {
  const key = keyOf(journal);
  const sign = (text: string): Buffer => createHmac('sha256', key).update(text).digest();
  return {
    make: (claim) => {
      const text = Buffer.from(JSON.stringify([claim.faultId, claim.personId, claim.untilMs])).toString('base64url');
      return `${text}.${sign(text).toString('base64url')}`;
    },
    read: (token, nowMs) => {
      const [text = '', signature = '', ...rest] = token.split('.');
      const given = Buffer.from(signature, 'base64url');
      const right = sign(text);
      if (rest.length > 0 || given.length !== right.length || !timingSafeEqual(given, right)) return undefined;
      const [faultId, personId, untilMs] = JSON.parse(Buffer.from(text, 'base64url').toString()) as [
        string,
        string,
        number,
      ];
      return nowMs < untilMs ? { faultId, personId, untilMs } : undefined;
    },
  };
};
