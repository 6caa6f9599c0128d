import { fault, ok, type Result } from '../../rules/result.js';
import type { Role } from '../../rules/wire/api.js';
import type { Stop } from '../clock.js';
import type { Journal } from '../journal/journal.js';
import { type Attempts, buildAttempts } from './attempts.js';
import type { Caller } from './caller.js';
import { isFirstCode, spendFirstCode } from './first-code.js';
import { hashPassphrase, isRightPassphrase, isWeak } from './passphrase.js';
import { hashSecret, isSameHash, makeSecret } from './secret.js';

export type SignInFault =
  | { readonly code: 'too-many-tries'; readonly waitMs: number }
  | {
      readonly code:
        | 'credential-wrong'
        | 'token-wrong'
        | 'first-code-wrong'
        | 'first-manager-exists'
        | 'passphrase-weak';
    };

/** Who came in, and what their browser shows from now on. */
export type SignedIn = { readonly caller: Caller; readonly secret: string };

/** Who may come in. Secrets are compared by hash; what ends is told, so that open feeds end too. */
export type Access = {
  readonly demo: boolean;
  /** Nobody can sign in yet: the code on the console makes the first manager. */
  isEmpty(): boolean;
  /** The owner of a session cookie or bearer token. */
  callerOf(secret: string): Caller | undefined;
  signIn(name: string, passphrase: string, address: string): Promise<Result<SignedIn, SignInFault>>;
  /** A wall link: its token is the cookie itself, so that revoking it ends the wall. */
  signInByToken(token: string, address: string): Result<SignedIn, SignInFault>;
  signInFirst(code: string, name: string, passphrase: string, address: string): Promise<Result<SignedIn, SignInFault>>;
  signOut(secret: string): void;
  /** The new token, told once; undefined when the name is taken. */
  addToken(name: string, role: Role): string | undefined;
  revokeToken(name: string): boolean;
  /** Somebody may no longer sign in; what they have open ends. */
  removeAccount(name: string): void;
  /** Called whenever somebody's right has ended: whoever holds a connection open asks `isStill` again. */
  onEnded(listen: () => void): Stop;
  isStill(caller: Caller): boolean;
};

export type AccessParts = {
  readonly journal: Pick<Journal, 'accounts' | 'sessions' | 'tokens' | 'meta'>;
  readonly now: () => number;
  readonly demo: boolean;
  /** The token in the data folder, for commands on this machine. */
  readonly localToken?: string;
};

/** A session lasts thirty days from its last use: a phone on the night table must not ask at 3 am. */
export const SESSION_MS = 30 * 24 * 3_600_000;
const EXTEND_AFTER_MS = 24 * 3_600_000;
const USED_AFTER_MS = 60_000;

export const buildAccess = (parts: AccessParts): Access => {
  const { journal, now, demo } = parts;
  const listeners = new Set<() => void>();
  const ended = (): void => {
    for (const listen of listeners) listen();
  };
  const isEmpty = (): boolean => journal.accounts.list().length === 0;
  return {
    demo,
    isEmpty,
    callerOf: (secret) => callerOf(parts, hashSecret(secret)),
    ...signingIn({ ...parts, attempts: buildAttempts(now), isEmpty }),
    signOut: (secret) => {
      journal.sessions.end(hashSecret(secret));
      ended();
    },
    addToken: (name, role) => {
      const token = makeSecret('nwt');
      return journal.tokens.add({ name, hash: hashSecret(token), role, createdMs: now() }) ? token : undefined;
    },
    revokeToken: (name) => {
      const revoked = journal.tokens.revoke(name, now());
      if (revoked) ended();
      return revoked;
    },
    removeAccount: (name) => {
      journal.accounts.remove(name);
      ended();
    },
    isStill: (caller) => caller.by === 'demo' || callerOf(parts, caller.key) !== undefined,
    onEnded: (listen) => {
      listeners.add(listen);
      return () => listeners.delete(listen);
    },
  };
};

const callerOf = ({ journal, now, localToken }: AccessParts, key: string): Caller | undefined => {
  if (localToken !== undefined && isSameHash(key, hashSecret(localToken)))
    return { name: 'command line', role: 'manager', by: 'this-machine', key };
  const atMs = now();
  const session = journal.sessions.byHash(key, atMs);
  if (session !== undefined) {
    const account = journal.accounts.byName(session.account);
    if (account === undefined) return undefined;
    if (session.expiresMs - atMs < SESSION_MS - EXTEND_AFTER_MS) journal.sessions.extend(key, atMs + SESSION_MS);
    return { name: account.name, role: account.role, by: 'session', key };
  }
  const token = journal.tokens.byHash(key);
  if (token === undefined) return undefined;
  if (atMs - (token.lastUsedMs ?? 0) > USED_AFTER_MS) journal.tokens.used(token.name, atMs);
  return { name: token.name, role: token.role, by: 'token', key };
};

type Attempting = AccessParts & { readonly attempts: Attempts; readonly isEmpty: () => boolean };
type Refused = { readonly ok: false; readonly fault: SignInFault };

const signingIn = (parts: Attempting): Pick<Access, 'signIn' | 'signInByToken' | 'signInFirst'> => ({
  signIn: async (name, passphrase, address) => {
    const wait = waitFor(parts, address);
    if (wait !== undefined) return wait;
    const account = parts.journal.accounts.byName(name);
    const right = await isRightPassphrase(account?.hash, passphrase);
    if (account === undefined || !right) return fault({ code: 'credential-wrong' });
    return begin(parts, name, account.role, address);
  },
  signInByToken: (secret, address) => {
    const wait = waitFor(parts, address);
    if (wait !== undefined) return wait;
    const caller = callerOf(parts, hashSecret(secret));
    if (caller?.by !== 'token') return fault({ code: 'token-wrong' });
    parts.attempts.forgive(address);
    return ok({ caller, secret });
  },
  signInFirst: (...typed) => signInFirst(parts, ...typed),
});

const signInFirst = async (
  parts: Attempting,
  ...[code, name, passphrase, address]: Parameters<Access['signInFirst']>
): ReturnType<Access['signInFirst']> => {
  const { journal, now, isEmpty } = parts;
  const wait = waitFor(parts, address);
  if (wait !== undefined) return wait;
  if (!isEmpty()) return fault({ code: 'first-manager-exists' });
  if (!(await isFirstCode(journal, code))) return fault({ code: 'first-code-wrong' });
  if (isWeak(passphrase)) return fault({ code: 'passphrase-weak' });
  const hash = await hashPassphrase(passphrase);
  // Two at once with the same code: the first to get here is the first manager.
  if (!isEmpty()) return fault({ code: 'first-manager-exists' });
  spendFirstCode(journal);
  journal.accounts.put({ name, hash, role: 'manager', createdMs: now() });
  return begin(parts, name, 'manager', address);
};

const waitFor = ({ attempts }: Attempting, address: string): Refused | undefined => {
  const waitMs = attempts.take(address);
  return waitMs === undefined ? undefined : fault({ code: 'too-many-tries', waitMs });
};

const begin = (
  { journal, now, attempts }: Attempting,
  name: string,
  role: Role,
  address: string,
): Result<SignedIn, never> => {
  attempts.forgive(address);
  const [secret, atMs] = [makeSecret('nws'), now()];
  const key = hashSecret(secret);
  journal.sessions.dropExpired(atMs);
  journal.sessions.add({ hash: key, account: name, createdMs: atMs, expiresMs: atMs + SESSION_MS });
  return ok({ caller: { name, role, by: 'session', key }, secret });
};
