import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { fileURLToPath } from 'node:url';
import { expect, onTestFinished, test } from 'vitest';
import { openAlertRoom } from '../../support/alert-room.js';
import { NIGHT_MS } from '../../support/ladder-night.js';
import { emptyFolder } from '../journal/opened.js';

const PROGRAM = fileURLToPath(new URL('../../../dist/tests/gateway/alerts/dying-gateway.js', import.meta.url));

/** Runs until the gateway of the process has come as far as said, then kills it without a goodbye (SIGKILL). */
const killedIn = async (folder: string, when: 'before' | 'during'): Promise<void> => {
  const child = spawn(process.execPath, [PROGRAM, folder, when], { stdio: ['ignore', 'pipe', 'inherit'] });
  onTestFinished(() => void child.kill('SIGKILL'));
  const [said] = (await once(child.stdout, 'data')) as [Buffer];
  expect(said.toString().trim()).toBe(when === 'before' ? 'decided' : 'sending');
  const ended = once(child, 'exit');
  child.kill('SIGKILL');
  await ended;
};

test('killed between the decision and the send: the next start sends it, once', async () => {
  const folder = emptyFolder();
  await killedIn(folder, 'before');
  const room = openAlertRoom(folder, { startMs: NIGHT_MS + 3_000 });
  await room.passes(1);
  expect(room.said.map(({ way, person }) => `${way} ${person}`)).toEqual(['push asta']);
});

test('killed while it was being sent, when it may have gone out: not again within the minute, and then once', async () => {
  const folder = emptyFolder();
  await killedIn(folder, 'during');
  const room = openAlertRoom(folder, { startMs: NIGHT_MS + 3_000 });
  await room.passes(0.9);
  expect(room.said).toEqual([]);
  await room.passes(0.2);
  expect(room.said).toHaveLength(1);
});
