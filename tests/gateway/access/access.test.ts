import { readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { buildAttempts } from '../../../gateway/access/attempts.js';
import { parseCookie } from '../../../gateway/access/cookie.js';
import { findLocalKey, leaveLocalKey } from '../../../gateway/access/local-key.js';
import { isRightPassphrase, isWeak } from '../../../gateway/access/passphrase.js';
import { demoPeerFault, isOwnOrigin } from '../../../gateway/access/peer.js';
import { hashSecret, makeCode, makeSecret, plainCode } from '../../../gateway/access/secret.js';
import { tempFolder } from '../../support/gateway-room.js';

describe('tries at a passphrase', () => {
  test('are never more than five in any minute from one address', () => {
    const step = fc.record({ afterMs: fc.integer({ min: 0, max: 30_000 }), address: fc.constantFrom('a', 'b') });
    fc.assert(
      fc.property(fc.array(step, { maxLength: 60 }), (steps) => {
        let nowMs = 0;
        const attempts = buildAttempts(() => nowMs);
        const taken: { readonly atMs: number; readonly address: string }[] = [];
        for (const { afterMs, address } of steps) {
          nowMs += afterMs;
          const waitMs = attempts.take(address);
          if (waitMs === undefined) taken.push({ atMs: nowMs, address });
          else expect(waitMs).toBeGreaterThan(0);
        }
        for (const { atMs, address } of taken) {
          const within = taken.filter(
            (each) => each.address === address && each.atMs > atMs - 60_000 && each.atMs <= atMs,
          );
          expect(within.length).toBeLessThanOrEqual(5);
        }
      }),
      { seed: 20260504 },
    );
  });

  test('may go on when the wait that was told is over, and after a right one at once', () => {
    let nowMs = 0;
    const attempts = buildAttempts(() => nowMs);
    for (let tries = 0; tries < 5; tries += 1) attempts.take('a');
    const waitMs = attempts.take('a');
    nowMs += waitMs ?? 0;
    expect(attempts.take('a')).toBeUndefined();
    attempts.forgive('a');
    for (let tries = 0; tries < 5; tries += 1) expect(attempts.take('a')).toBeUndefined();
  });
});

describe('secrets', () => {
  test('are long, say what they are for, and are told apart by hash', () => {
    const [a, b] = [makeSecret('nwt'), makeSecret('nwt')];
    expect(a).toMatch(/^nwt_[\w-]{43}$/);
    expect(hashSecret(a)).not.toBe(hashSecret(b));
  });

  test('that people type hold no letter that looks like another, and are read in any case', () => {
    for (let made = 0; made < 200; made += 1) {
      const code = makeCode();
      expect(code).toMatch(/^[^ILOU01]{9}$/);
      expect(plainCode(code.toLowerCase())).toBe(code.replace('-', ''));
    }
  });

  test.each([
    ['short one', true],
    ['aaaaaaaaaaaaaaa', true],
    ['abababababab', true],
    ['four tides and a moon', false],
    ['牡蠣の幼生は夜も泳いでいる', false],
  ])('the passphrase “%s” is too easy to guess: %s', (passphrase, weak) => {
    expect(isWeak(passphrase)).toBe(weak);
  });

  test('nobody has a passphrase, not even the one that stands in for them', async () => {
    expect(await isRightPassphrase(undefined, 'nobody has this passphrase')).toBe(false);
  });
});

describe('where a request comes from', () => {
  const here = { address: '127.0.0.1', host: '127.0.0.1:8460', origin: undefined, protocol: 'http' } as const;

  test.each([
    [{}, undefined],
    [{ address: '::1', host: '[::1]:8460' }, undefined],
    [{ address: '::ffff:127.0.0.1', host: 'LOCALHOST:8460', origin: 'http://LOCALHOST:8460' }, 'origin-not-ours'],
    [{ host: 'localhost:8460', origin: 'http://localhost:8460' }, undefined],
    [{ address: '192.168.1.4' }, 'not-this-machine'],
    [{ address: undefined }, 'not-this-machine'],
    [{ host: undefined }, 'host-not-loopback'],
    [{ host: '127.0.0.1.rebound.example' }, 'host-not-loopback'],
    [{ host: 'localhost.rebound.example:8460' }, 'host-not-loopback'],
    [{ origin: 'http://127.0.0.1.rebound.example' }, 'origin-not-ours'],
    [{ origin: 'null' }, 'origin-not-ours'],
  ] as const)('the demo says of %j: %s', (peer, fault) => {
    expect(demoPeerFault({ ...here, ...peer })).toBe(fault);
  });

  test.each([
    [undefined, true],
    ['http://tide.local:8460', true],
    ['https://water.example', true],
    ['https://tide.local:8460', false],
    ['http://tide.local', false],
    ['https://water.example.evil.example', false],
    ['null', false],
  ])('a change from the page %s is ours: %s', (origin, own) => {
    const peer = { address: '10.0.0.7', host: 'tide.local:8460', origin, protocol: 'http' } as const;
    expect(isOwnOrigin(peer, 'https://water.example')).toBe(own);
  });
});

test.each([
  ['nightwater=abc', 'abc'],
  ['a=1; nightwater=abc; b=2', 'abc'],
  ['a=1;nightwater=a=b', 'a=b'],
  ['xnightwater=abc', undefined],
  ['', undefined],
])('finds its cookie in “%s”', (header, value) => {
  expect(parseCookie(header, 'nightwater')).toBe(value);
});

describe('the key for commands on this machine', () => {
  test('can be read by its owner only, and is gone with the gateway', () => {
    const folder = tempFolder();
    const { token, takeAway } = leaveLocalKey(folder, { url: 'http://127.0.0.1:8460' });
    expect(statSync(join(folder, 'running.json')).mode & 0o777).toBe(0o600);
    expect(readFileSync(join(folder, 'running.json'), 'utf8')).toContain(token);
    expect(findLocalKey(folder)).toEqual({ url: 'http://127.0.0.1:8460', token });
    takeAway();
    expect(findLocalKey(folder)).toBeUndefined();
  });
});
