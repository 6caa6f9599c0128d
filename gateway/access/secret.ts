import { createHash, randomBytes, randomInt, timingSafeEqual } from 'node:crypto';

/** What a secret is for, readable in its first letters: a leaked one can be told and revoked. */
export type SecretKind = 'nws' | 'nwt' | 'nwb';

/** 32 random bytes after the kind: nothing to guess, so that a fast hash keeps it safe at rest. */
export const makeSecret = (kind: SecretKind): string => `${kind}_${randomBytes(32).toString('base64url')}`;

/** How a session, token or board's password is kept. For what people think up there is argon2 in passphrase.ts. */
export const hashSecret = (secret: string): string => createHash('sha256').update(secret).digest('base64url');

/** In a time that does not depend on where they differ. */
export const isSameHash = (a: string, b: string): boolean => {
  const [left, right] = [Buffer.from(a), Buffer.from(b)];
  return left.length === right.length && timingSafeEqual(left, right);
};

/** Letters and digits that nobody takes for another: no I, L, O, U, 0, 1. */
const CLEAR = 'ABCDEFGHJKMNPQRSTVWXYZ23456789';

/** Eight clear letters in two groups, `K7QM-3RTX`: 30^8, about 6.6 × 10^11 of them. */
export const makeCode = (): string => {
  const letters = Array.from({ length: 8 }, () => CLEAR[randomInt(CLEAR.length)] ?? 'A').join('');
  return `${letters.slice(0, 4)}-${letters.slice(4)}`;
};

/** As a person may type it: any case, with or without the dash and blanks. */
export const plainCode = (typed: string): string => typed.toUpperCase().replaceAll(/[^A-Z0-9]/g, '');
