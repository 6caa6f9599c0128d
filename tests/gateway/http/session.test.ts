import { describe, expect, test } from 'vitest';
import { isFirstCode, prepareFirstCode } from '../../../gateway/access/first-code.js';
import { hashPassphrase } from '../../../gateway/access/passphrase.js';
import { gatewayRoom, type Room } from '../../support/gateway-room.js';

const PASSPHRASE = 'four tides and a moon';
const JSON_TYPE = { 'content-type': 'application/json' };

const post = (
  room: Room,
  url: string,
  payload: object,
  more: Readonly<Record<string, string>> = {},
  remoteAddress = '10.0.0.7',
) =>
  room.app.inject({ method: 'POST', url: `/api/v1${url}`, payload, remoteAddress, headers: { ...JSON_TYPE, ...more } });

const withAccount = async (): Promise<Room> => {
  const room = await gatewayRoom();
  room.journal.accounts.put({ name: 'Ada', hash: await hashPassphrase(PASSPHRASE), role: 'crew', createdMs: 0 });
  return room;
};

describe('signing in', () => {
  test('gives a cookie that scripts and other pages cannot use, and that lets its owner in', async () => {
    const room = await withAccount();
    const reply = await post(room, '/session', { name: 'Ada', passphrase: PASSPHRASE });
    expect(reply.json()).toEqual({ name: 'Ada', role: 'crew', first: false, demo: false });
    const [cookie] = reply.cookies;
    expect(cookie).toMatchObject({ name: 'nightwater', httpOnly: true, sameSite: 'Strict', path: '/' });
    const cookies = { nightwater: cookie?.value ?? '' };
    expect((await room.app.inject({ url: '/api/v1/picture', cookies })).statusCode).toBe(200);
    expect((await room.app.inject({ url: '/api/v1/session', cookies })).json()).toMatchObject({ name: 'Ada' });
    const secure = await post(
      room,
      '/session',
      { name: 'Ada', passphrase: PASSPHRASE },
      { 'x-forwarded-proto': 'https' },
      '127.0.0.1',
    );
    expect(secure.cookies[0]).toMatchObject({ secure: true });
    expect(cookie?.secure).toBeUndefined();
  });

  test('keeps neither the passphrase nor the cookie, only hashes', async () => {
    const room = await withAccount();
    const { cookies } = await post(room, '/session', { name: 'Ada', passphrase: PASSPHRASE });
    const kept = JSON.stringify([
      room.journal.accounts.list(),
      room.journal.sessions.byHash(cookies[0]?.value ?? '', 0),
    ]);
    expect(kept).not.toContain(PASSPHRASE);
    expect(kept).not.toContain(cookies[0]?.value);
    expect(kept).toContain('$argon2id$');
  });

  test('does not tell a wrong name from a wrong passphrase', async () => {
    const room = await withAccount();
    const [name, passphrase] = [
      await post(room, '/session', { name: 'Bo', passphrase: PASSPHRASE }),
      await post(room, '/session', { name: 'Ada', passphrase: 'four tides and a sun' }),
    ];
    expect(name.json()).toEqual(passphrase.json());
    expect(name.statusCode).toBe(401);
  });

  test('after five wrong tries in a minute from one address asks to wait, there alone and for a minute', async () => {
    const room = await withAccount();
    const wrong = { name: 'Ada', passphrase: 'wrong wrong' };
    for (let tries = 0; tries < 5; tries += 1) expect((await post(room, '/session', wrong)).statusCode).toBe(401);
    const right = { name: 'Ada', passphrase: PASSPHRASE };
    const waiting = await post(room, '/session', right);
    expect(waiting.json()).toMatchObject({
      status: 429,
      detail: 'Too many tries from here: wait 60 s, then try again.',
    });
    expect(waiting.headers['retry-after']).toBe('60');
    expect((await post(room, '/session', right, {}, '10.0.0.8')).statusCode).toBe(200);
    room.clock.passes(60_000);
    expect((await post(room, '/session', right)).statusCode).toBe(200);
  });

  test('ends by signing out, by itself thirty days after its last use, and when the account goes', async () => {
    const room = await withAccount();
    const enter = async (): Promise<{ nightwater: string }> => {
      const { cookies } = await post(room, '/session', { name: 'Ada', passphrase: PASSPHRASE });
      return { nightwater: cookies[0]?.value ?? '' };
    };
    const isIn = async (cookies: { nightwater: string }): Promise<boolean> =>
      (await room.app.inject({ url: '/api/v1/picture', cookies })).statusCode === 200;
    const day = 86_400_000;

    const out = await enter();
    const reply = await room.app.inject({ method: 'DELETE', url: '/api/v1/session', cookies: out });
    expect(reply.statusCode).toBe(204);
    expect(await isIn(out)).toBe(false);

    const used = await enter();
    room.clock.passes(20 * day);
    expect(await isIn(used)).toBe(true);
    room.clock.passes(20 * day);
    expect(await isIn(used)).toBe(true);
    room.clock.passes(31 * day);
    expect(await isIn(used)).toBe(false);

    const gone = await enter();
    expect((await room.ask('manager', { method: 'DELETE', url: '/api/v1/accounts/Ada' })).statusCode).toBe(204);
    expect(await isIn(gone)).toBe(false);
  });
});

describe('the first manager', () => {
  test('is made once, with the code on the console, typed in any way', async () => {
    const room = await gatewayRoom();
    const code = (await prepareFirstCode(room.journal)) ?? '';
    expect(code).toMatch(/^[A-HJKMNP-TV-Z2-9]{4}-[A-HJKMNP-TV-Z2-9]{4}$/);
    expect(room.journal.meta.get('first-code')).not.toContain(code.replace('-', ''));
    expect((await room.app.inject('/api/v1/session')).json()).toMatchObject({ first: true });
    const typed = { code: ` ${code.toLowerCase().replace('-', ' ')}`, name: 'Ada', passphrase: PASSPHRASE };
    expect((await post(room, '/session/first', { ...typed, code: 'AAAA-AAAA' })).json()).toMatchObject({
      fault: 'first-code-wrong',
    });
    expect((await post(room, '/session/first', { ...typed, passphrase: 'aaaaaaaaaaaa' })).json()).toMatchObject({
      fault: 'passphrase-weak',
    });
    expect((await post(room, '/session/first', typed)).json()).toMatchObject({
      name: 'Ada',
      role: 'manager',
      first: false,
    });
    expect((await post(room, '/session/first', { ...typed, name: 'Bo' })).json()).toMatchObject({
      fault: 'first-manager-exists',
    });
    expect(await isFirstCode(room.journal, code)).toBe(false);
    expect(await prepareFirstCode(room.journal)).toBeUndefined();
  });

  test('of two who type the code at once only one becomes manager', async () => {
    const room = await gatewayRoom();
    const code = (await prepareFirstCode(room.journal)) ?? '';
    const replies = await Promise.all(
      ['Ada', 'Bo'].map((name) =>
        post(room, '/session/first', { code, name, passphrase: PASSPHRASE }, {}, `10.0.0.${name.length}`),
      ),
    );
    expect(replies.map(({ statusCode }) => statusCode).sort()).toEqual([200, 409]);
    expect(room.journal.accounts.list()).toHaveLength(1);
  });

  test('an older code is worth nothing after the next start', async () => {
    const room = await gatewayRoom();
    const code = (await prepareFirstCode(room.journal)) ?? '';
    await prepareFirstCode(room.journal);
    expect((await post(room, '/session/first', { code, name: 'Ada', passphrase: PASSPHRASE })).statusCode).toBe(401);
  });

  test('the last manager cannot be taken away', async () => {
    const room = await withAccount();
    const make = { name: 'Cleo', role: 'manager', passphrase: PASSPHRASE };
    expect((await room.ask('manager', { method: 'POST', url: '/api/v1/accounts', payload: make })).statusCode).toBe(
      201,
    );
    const reply = await room.ask('manager', { method: 'DELETE', url: '/api/v1/accounts/Cleo' });
    expect(reply.json()).toMatchObject({ fault: 'last-manager' });
  });
});

describe('a wall link', () => {
  test('opens a browser with a token that nobody sees, and can be revoked', async () => {
    const room = await gatewayRoom();
    const made = await room.ask('manager', {
      method: 'POST',
      url: '/api/v1/tokens',
      payload: { name: 'wall', role: 'viewer' },
    });
    const { token, link } = made.json<{ token: string; link: string }>();
    expect(link).toBe(`http://localhost:80/#wall=${token}`);
    expect((await room.ask('manager', { url: '/api/v1/tokens' })).body).not.toContain(token);
    const opened = await post(room, '/session', { token });
    const cookies = { nightwater: opened.cookies[0]?.value ?? '' };
    expect(opened.json()).toMatchObject({ name: 'wall', role: 'viewer' });
    expect((await room.app.inject({ url: '/api/v1/picture', cookies })).statusCode).toBe(200);
    expect((await room.ask('manager', { method: 'DELETE', url: '/api/v1/tokens/wall' })).statusCode).toBe(204);
    expect((await room.app.inject({ url: '/api/v1/picture', cookies })).statusCode).toBe(401);
    expect((await post(room, '/session', { token })).json()).toMatchObject({ fault: 'token-wrong' });
  });
});

describe('requests of other pages', () => {
  const foreign = { origin: 'https://elsewhere.example', host: 'localhost:80' };
  test('change nothing, whatever right the browser has', async () => {
    const room = await gatewayRoom();
    const reply = await room.ask('manager', { method: 'POST', url: '/api/v1/tokens', headers: foreign, payload: {} });
    expect(reply.json()).toMatchObject({ status: 403, fault: 'origin-not-ours' });
    const silent = { 'sec-fetch-site': 'cross-site' };
    expect((await room.ask('manager', { method: 'DELETE', url: '/api/v1/session', headers: silent })).statusCode).toBe(
      403,
    );
  });

  test('are ours when they come from our own address, or from the public one', async () => {
    const room = await gatewayRoom({ publicUrl: 'https://water.example' });
    for (const origin of ['http://localhost:80', 'https://water.example']) {
      const headers = { origin, host: 'localhost:80' };
      const payload = { name: origin, role: 'viewer' };
      expect((await room.ask('manager', { method: 'POST', url: '/api/v1/tokens', headers, payload })).statusCode).toBe(
        201,
      );
    }
  });
});

describe('the demo', () => {
  const ask = (room: Room, headers: Readonly<Record<string, string>>, remoteAddress = '127.0.0.1') =>
    room.app.inject({ url: '/api/v1/picture', headers, remoteAddress });

  test('asks nobody to sign in on its own machine', async () => {
    const room = await gatewayRoom({ demo: true });
    for (const host of ['127.0.0.1:8460', 'localhost:8460', '[::1]:8460']) {
      expect((await ask(room, { host })).statusCode).toBe(200);
    }
    const session = await room.app.inject({ url: '/api/v1/session', headers: { host: 'localhost' } });
    expect(session.json()).toEqual({ name: 'demo', role: 'manager', first: false, demo: true });
  });

  test.each([
    ['another machine', { host: '127.0.0.1' }, '10.0.0.7', 'not-this-machine'],
    [
      'another machine behind a header',
      { host: '127.0.0.1', 'x-forwarded-for': '127.0.0.1' },
      '10.0.0.7',
      'not-this-machine',
    ],
    ['a name that was bent to point here', { host: 'rebound.example' }, '127.0.0.1', 'host-not-loopback'],
    [
      'a page of another origin',
      { host: '127.0.0.1', origin: 'https://elsewhere.example' },
      '127.0.0.1',
      'origin-not-ours',
    ],
    [
      'a page on another port of this machine',
      { host: '127.0.0.1:8460', origin: 'http://127.0.0.1:9999' },
      '127.0.0.1',
      'origin-not-ours',
    ],
    ['a page without an origin', { host: '127.0.0.1', origin: 'null' }, '127.0.0.1', 'origin-not-ours'],
  ])('refuses %s, with a sentence', async (_what, headers, address, fault) => {
    const room = await gatewayRoom({ demo: true });
    const reply = await ask(room, headers as unknown as Record<string, string>, address);
    expect(reply.json()).toMatchObject({ status: 403, fault });
  });
});
