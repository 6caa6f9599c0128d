import { describe, expect, test } from 'vitest';
import { openedJournal, START_MS } from './opened.js';

const ACCOUNT = { name: 'Tomé', hash: '$argon2id$one', role: 'crew', createdMs: START_MS } as const;

describe('accounts', () => {
  test('an account can be given another hash and role', () => {
    const { accounts } = openedJournal();
    accounts.put(ACCOUNT);
    accounts.put({ ...ACCOUNT, hash: '$argon2id$two', role: 'manager', createdMs: START_MS + 1 });
    expect(accounts.list()).toEqual([{ ...ACCOUNT, hash: '$argon2id$two', role: 'manager' }]);
    expect(accounts.byName('nobody')).toBeUndefined();
  });

  test('with an account its sessions end', () => {
    const { accounts, sessions } = openedJournal();
    accounts.put(ACCOUNT);
    sessions.add({ hash: 's', account: 'Tomé', createdMs: START_MS, expiresMs: START_MS + 10 });
    expect(accounts.remove('Tomé')).toBe(true);
    expect(sessions.byHash('s', START_MS)).toBeUndefined();
    expect(accounts.remove('Tomé')).toBe(false);
  });

  test('a session is no longer there from the millisecond at which it expires', () => {
    const { accounts, sessions } = openedJournal();
    accounts.put(ACCOUNT);
    sessions.add({ hash: 's', account: 'Tomé', createdMs: START_MS, expiresMs: START_MS + 10 });
    expect(sessions.byHash('s', START_MS + 9)?.account).toBe('Tomé');
    expect(sessions.byHash('s', START_MS + 10)).toBeUndefined();
    sessions.extend('s', START_MS + 20);
    expect(sessions.byHash('s', START_MS + 10)).toBeDefined();
    sessions.dropExpired(START_MS + 20);
    sessions.extend('s', START_MS + 99);
    expect(sessions.byHash('s', START_MS)).toBeUndefined();
  });

  test('a revoked token opens nothing and its name is not given again', () => {
    const { tokens } = openedJournal();
    const token = { name: 'wall', hash: 'h', role: 'viewer', createdMs: START_MS } as const;
    expect(tokens.add(token)).toBe(true);
    tokens.used('wall', START_MS + 5);
    expect(tokens.byHash('h')).toEqual({ ...token, lastUsedMs: START_MS + 5 });
    expect([tokens.revoke('wall', START_MS + 9), tokens.revoke('wall', START_MS + 10)]).toEqual([true, false]);
    expect(tokens.byHash('h')).toBeUndefined();
    expect(tokens.add({ ...token, hash: 'other' })).toBe(false);
    expect(tokens.list()).toMatchObject([{ name: 'wall', revokedMs: START_MS + 9 }]);
  });
});
