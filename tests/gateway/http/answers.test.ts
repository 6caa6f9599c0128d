import { createHash } from 'node:crypto';
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { brotliCompressSync, brotliDecompressSync, gunzipSync, gzipSync } from 'node:zlib';
import { describe, expect, test } from 'vitest';
import { isRightBoard } from '../../../gateway/access/board-credentials.js';
import { csvRows } from '../../../gateway/cli/csv-rows.js';
import type { HistoryRow } from '../../../gateway/history/history.js';
import { isoWithOffset } from '../../../gateway/http/moment.js';
import { gatewayRoom, tempFolder } from '../../support/gateway-room.js';
import { alarmOf } from '../../support/pretend-watch.js';

/** 1:30 at night in Lisbon, once before and once after the clocks go back on 25 October 2026. */
const BEFORE_MS = Date.UTC(2026, 9, 25, 0, 30);
const AFTER_MS = Date.UTC(2026, 9, 25, 1, 30);

const ROWS: readonly HistoryRow[] = [
  {
    atMs: BEFORE_MS,
    arrivalMs: BEFORE_MS + 1,
    value: 26.5,
    usable: true,
    sent: { sourceId: 1, variant: 0, raw: 79.7, unit: 'degF', flags: 16_777_220 },
  },
  { atMs: AFTER_MS, arrivalMs: AFTER_MS, usable: false },
];

describe('the export of a channel', () => {
  const url = `/api/v1/channels/l2.temperature/export.csv?from=${BEFORE_MS}&to=2026-10-25T03:00:00%2B00:00`;

  test('is CSV with units in the header, local times with their offset, raw, value and flags', async () => {
    const room = await gatewayRoom({ rows: ROWS });
    const { body, headers } = await room.ask('viewer', { url });
    expect(headers['content-type']).toBe('text/csv; charset=utf-8; header=present');
    expect(headers['content-disposition']).toBe(
      'attachment; filename="l2.temperature-20261025T003000Z-20261025T030000Z.csv"',
    );
    expect(body.endsWith('\r\n')).toBe(true);
    const rows = csvRows(body);
    if (!rows.ok) throw new Error(rows.fault.sentence);
    const [header, first, second] = rows.value.map(({ cells }) => cells);
    expect(header?.slice(0, 4)).toEqual([
      'time (ISO 8601, Europe/Lisbon)',
      'arrival (ISO 8601)',
      'temperature (degC)',
      'usable (1 yes, 0 no)',
    ]);
    expect(first).toEqual([
      '2026-10-25T01:30:00.000+01:00',
      '2026-10-25T01:30:00.001+01:00',
      '26.5',
      '1',
      '1',
      'syntax=1',
      '',
      '79.7',
      'degF',
      '1',
      '0',
      '',
    ]);
    // What was not sent and cannot be computed is an empty cell, not a zero.
    expect(second).toEqual([
      '2026-10-25T01:30:00.000+00:00',
      '2026-10-25T01:30:00.000+00:00',
      '',
      '0',
      '2',
      '',
      '',
      '',
      '',
      '',
      '',
      '',
    ]);
  });

  test('has a checksum file beside it that sha256sum reads', async () => {
    const room = await gatewayRoom({ rows: ROWS });
    const [csv, sum] = [
      await room.ask('viewer', { url }),
      await room.ask('viewer', { url: url.replace('.csv?', '.csv.sha256?') }),
    ];
    const hash = createHash('sha256').update(csv.rawPayload).digest('hex');
    expect(sum.body).toBe(`${hash}  l2.temperature-20261025T003000Z-20261025T030000Z.csv\n`);
  });

  // Zones of the IANA database; half an hour's daylight saving at Lord Howe, three quarters of an hour in Nepal.
  test.each([
    ['America/New_York', '2026-10-24T20:30:00.000-04:00'],
    ['Asia/Kathmandu', '2026-10-25T06:15:00.000+05:45'],
    ['Australia/Lord_Howe', '2026-10-25T11:30:00.000+11:00'],
    ['UTC', '2026-10-25T00:30:00.000+00:00'],
  ])('writes %s with its own offset', (zone, text) => {
    expect(isoWithOffset(BEFORE_MS, zone)).toBe(text);
    expect(Date.parse(text)).toBe(BEFORE_MS);
  });
});

describe('alarms', () => {
  test('are acknowledged by name, once; a second time there is nothing to do', async () => {
    const room = await gatewayRoom();
    room.watch.alarm(alarmOf('above-limit l2.temperature 1'));
    const url = `/api/v1/alarms/${encodeURIComponent('above-limit l2.temperature 1')}/acknowledgement`;
    const first = await room.ask('crew', { method: 'POST', url });
    expect(first.json()).toMatchObject({ state: 'ack', acknowledgedBy: 'a crew' });
    const second = await room.ask('crew', { method: 'POST', url });
    expect(second.json()).toMatchObject({ status: 409, fault: 'alarm-already-done' });
  });

  test('of low priority are put aside by the crew, all others by a manager alone, and by nobody without a reason', async () => {
    const room = await gatewayRoom();
    room.watch.alarm(alarmOf('high'));
    room.watch.alarm(alarmOf('low', { priority: 'low' }));
    const shelve = (
      who: 'crew' | 'manager',
      id: string,
      payload: object = { minutes: 60, reason: 'probe is being cleaned' },
    ) => room.ask(who, { method: 'POST', url: `/api/v1/alarms/${id}/shelving`, payload });
    const refused = await shelve('crew', 'high');
    expect(refused.json()).toMatchObject({ status: 403, fault: 'shelving-needs-manager' });
    expect((await shelve('manager', 'high')).statusCode).toBe(200);
    expect((await shelve('crew', 'low')).statusCode).toBe(200);
    expect((await shelve('manager', 'high', { minutes: 60 })).json().detail).toContain('reason');
  });

  test('that ended are told apart from those that are open', async () => {
    const room = await gatewayRoom();
    const changedMs = room.clock.now() - 1_000;
    room.watch.alarm(alarmOf('open', { activatedMs: changedMs, changedMs }));
    room.watch.alarm(alarmOf('ended', { state: 'normal', activatedMs: changedMs, changedMs }), 'cond-off');
    const ids = async (state: string) =>
      (await room.ask('viewer', { url: `/api/v1/alarms?state=${state}` })).json().map(({ id }: { id: string }) => id);
    expect([await ids('open'), await ids('ended')]).toEqual([['open'], ['ended']]);
  });
});

describe('adding a board', () => {
  const add = (room: Awaited<ReturnType<typeof gatewayRoom>>, payload: object) =>
    room.ask('manager', { method: 'POST', url: '/api/v1/boards', headers: { host: 'tide.local:8460' }, payload });

  test('gives a password once, and a whole line to paste with the address that the page was reached by', async () => {
    const room = await gatewayRoom();
    const reply = await add(room, { board: 'b1', tank: "Ada's tank", quantity: 'oxygen-mg-l' });
    const { password, recipe } = reply.json();
    expect(recipe.publishLine).toBe(
      `mosquitto_pub -h tide.local -p 1883 -u b1 -P ${password} -q 1 -t 'tanks/Ada'\\''s tank/oxygen-mg-l' -m 23.4`,
    );
    const isRight = isRightBoard(room.journal);
    expect([isRight('b1', password), isRight('b1', 'guess'), isRight('b2', password)]).toEqual([true, false, false]);
    expect(JSON.stringify(room.journal.settings.latest('board-credential', 'b1'))).not.toContain(password);
    expect(reply.headers['cache-control']).toBe('no-store');
  });

  test('that has a password asks before it shuts the board out', async () => {
    const room = await gatewayRoom();
    const { password } = (await add(room, { board: 'b1' })).json();
    expect((await add(room, { board: 'b1' })).json()).toMatchObject({ status: 409, fault: 'board-has-password' });
    const again = (await add(room, { board: 'b1', replace: true })).json();
    const isRight = isRightBoard(room.journal);
    expect([isRight('b1', password), isRight('b1', again.password)]).toEqual([false, true]);
  });

  test('puts it on the list before it is heard', async () => {
    const room = await gatewayRoom();
    await add(room, { board: 'b1' });
    expect((await room.ask('viewer', { url: '/api/v1/boards' })).json()).toMatchObject([
      { id: 'b1', state: 'unknown' },
    ]);
  });

  test('needs no password on this machine, and says so', async () => {
    const room = await gatewayRoom();
    const asked = async (host: string) =>
      (await room.ask('crew', { url: '/api/v1/boards/recipe', headers: { host } })).json();
    expect(await asked('127.0.0.1:8460')).toMatchObject({
      publishLine: 'mosquitto_pub -h 127.0.0.1 -p 1883 -q 1 -t tanks/tank-1/temperature -m 23.4',
      remark: expect.stringContaining('no password is needed'),
    });
    expect((await asked('10.0.0.5:8460')).publishLine).toContain('-h 10.0.0.5 -p 1883 -u BOARD -P PASSWORD');
  });
});

describe('the built pages', () => {
  const pages = (): string => {
    const folder = tempFolder();
    mkdirSync(join(folder, 'assets'));
    writeFileSync(
      join(folder, 'index.html'),
      '<!doctype html><script>let a = 1;</script><script src="/assets/app-1f.js"></script>',
    );
    writeFileSync(join(folder, 'assets', 'app-1f.js'), 'export {};');
    return folder;
  };

  test('are asked for anew, but for files whose name changes with them', async () => {
    const room = await gatewayRoom({ pages: pages() });
    const cached = async (url: string) => (await room.app.inject(url)).headers['cache-control'];
    expect(await cached('/')).toBe('no-cache');
    expect(await cached('/assets/app-1f.js')).toBe('public, max-age=31536000, immutable');
    expect((await room.ask('viewer', { url: '/api/v1/picture' })).headers['cache-control']).toBe('no-store');
  });

  test('are sent compressed where the build left them so and the browser takes it', async () => {
    const folder = pages();
    writeFileSync(join(folder, 'assets', 'app-1f.js.gz'), gzipSync('export {};'));
    writeFileSync(join(folder, 'assets', 'app-1f.js.br'), brotliCompressSync('export {};'));
    const room = await gatewayRoom({ pages: folder });
    const asked = async (encoding: string) => {
      const { headers, rawPayload } = await room.app.inject({
        url: '/assets/app-1f.js',
        headers: { 'accept-encoding': encoding },
      });
      return { headers, bytes: rawPayload };
    };
    const brotli = await asked('gzip, deflate, br');
    expect(brotli.headers).toMatchObject({
      'content-encoding': 'br',
      'content-type': 'application/javascript; charset=utf-8',
      'cache-control': 'public, max-age=31536000, immutable',
      vary: 'accept-encoding',
    });
    expect(brotliDecompressSync(brotli.bytes).toString()).toBe('export {};');
    expect(gunzipSync((await asked('gzip')).bytes).toString()).toBe('export {};');
    const plain = await asked('identity');
    expect(plain.headers['content-encoding']).toBeUndefined();
    expect(plain.bytes.toString()).toBe('export {};');
    // Nothing compressed lies beside the page itself: it is sent as it is.
    expect((await room.app.inject({ url: '/', headers: { 'accept-encoding': 'br' } })).body).toContain('<!doctype');
  });

  test('find their own way: an address inside them is the page, a missing file and a missing answer are not', async () => {
    const room = await gatewayRoom({ pages: pages() });
    const deep = await room.app.inject('/tanks/l2?hours=6');
    expect([deep.statusCode, deep.headers['content-type']]).toEqual([200, 'text/html; charset=utf-8']);
    expect((await room.app.inject('/assets/app-2a.js')).json()).toMatchObject({ status: 404, fault: 'no-such-page' });
    expect((await room.app.inject('/api/v1/nothing')).statusCode).toBe(404);
    expect((await room.app.inject('/..%2f..%2fpackage.json')).statusCode).toBe(404);
  });

  test('run only our own scripts, in no frame', async () => {
    const room = await gatewayRoom({ pages: pages() });
    const { headers } = await room.app.inject('/');
    const policy = String(headers['content-security-policy']);
    const inline = createHash('sha256').update('let a = 1;').digest('base64');
    expect(policy).toContain(`script-src 'self' 'sha256-${inline}';`);
    expect(policy).toContain("default-src 'none'");
    expect(policy).toContain("frame-ancestors 'none'");
    expect(policy).not.toContain('unsafe');
    expect(headers).toMatchObject({ 'x-content-type-options': 'nosniff', 'referrer-policy': 'no-referrer' });
    expect(headers['strict-transport-security']).toBeUndefined();
  });
});
