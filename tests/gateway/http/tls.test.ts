import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { io } from 'socket.io-client';
import { expect, onTestFinished, test } from 'vitest';
import { buildAccess } from '../../../gateway/access/access.js';
import { leaveLocalKey } from '../../../gateway/access/local-key.js';
import { findRunning } from '../../../gateway/cli/running.js';
import { buildApp } from '../../../gateway/http/app.js';
import { openFeed } from '../../../gateway/live/feed.js';
import { gatewayRoom, tempFolder } from '../../support/gateway-room.js';

/** A certificate that nobody else knows, as a site makes for itself; undefined where openssl is not installed. */
const ownCertificate = (): { readonly cert: string; readonly key: string } | undefined => {
  const folder = tempFolder();
  const [cert, key] = [join(folder, 'cert.pem'), join(folder, 'key.pem')];
  const args = [
    'req',
    '-x509',
    '-newkey',
    'ec',
    '-pkeyopt',
    'ec_paramgen_curve:prime256v1',
    '-nodes',
    '-days',
    '2',
    '-subj',
    '/CN=tide.local',
  ];
  const made = spawnSync('openssl', [...args, '-keyout', key, '-out', cert]);
  return made.status === 0 ? { cert: readFileSync(cert, 'utf8'), key: readFileSync(key, 'utf8') } : undefined;
};

test('with a certificate of its own the gateway speaks https and wss, and its own commands know it', async (context) => {
  const tls = ownCertificate();
  if (tls === undefined) return context.skip('openssl is not installed');
  const room = await gatewayRoom();
  const { folder } = room.journal;
  const key = leaveLocalKey(folder, { url: '' });
  const access = buildAccess({ journal: room.journal, now: room.clock.now, demo: false, localToken: key.token });
  const parts = { ...room.parts, access, tls };
  const app = await buildApp(parts);
  const feed = openFeed(app.server, parts);
  onTestFinished(async () => {
    await feed.close();
    await app.close();
  });
  // Fastify does not know of the certificate and calls the address http.
  const url = (await app.listen({ host: '127.0.0.1', port: 0 })).replace(/^http:/, 'https:');

  leaveLocalKey(folder, { url, certificate: tls.cert }, key.token);
  const reply = await findRunning(folder)?.ask('/session');
  expect(reply).toMatchObject({ ok: true });
  expect(reply?.ok === true && JSON.parse(reply.value.text)).toMatchObject({ name: 'command line', role: 'manager' });

  leaveLocalKey(folder, { url }, key.token);
  expect(await findRunning(folder)?.ask('/session')).toMatchObject({ ok: false });

  const socket = io(url, {
    auth: { token: key.token },
    ca: tls.cert,
    rejectUnauthorized: false,
    reconnection: false,
    extraHeaders: { origin: url },
  });
  onTestFinished(() => {
    socket.close();
  });
  const hello = await new Promise((resolve, reject) => {
    socket.once('hello', resolve);
    socket.once('connect_error', reject);
  });
  expect(hello).toMatchObject({ api: 1 });
});
