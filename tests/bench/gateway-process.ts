import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { readFileSync } from 'node:fs';
import { setTimeout as pause } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { io, type Socket } from 'socket.io-client';
import { findLocalKey } from '../../gateway/access/local-key.js';
import type { ServerEvents } from '../../rules/wire/feed.js';
import { freePort } from '../support/mosquitto.js';

/** `nightwater start` as a process of its own, with this process's own options for Node: `--cpu-prof` looks into it too. */
export type GatewayProcess = {
  readonly pid: number;
  readonly url: string;
  /** From the start of the process to the first answer. */
  readonly answeredInMs: number;
  ask(path: string, body?: object): Promise<unknown>;
  /** A screen: connected, welcomed. */
  screen(): Promise<Socket<ServerEvents, Record<string, never>>>;
  memoryMb(): number;
  stop(): Promise<void>;
};

const MAIN = fileURLToPath(new URL('../../gateway/cli/main.js', import.meta.url));

export const startGatewayProcess = async (folder: string, env: NodeJS.ProcessEnv): Promise<GatewayProcess> => {
  const began = performance.now();
  const said: string[] = [];
  const child = spawn(process.execPath, [...process.execArgv, MAIN, 'start'], {
    stdio: ['ignore', 'ignore', 'pipe'],
    env: {
      ...process.env,
      NIGHTWATER_DATA: folder,
      NIGHTWATER_HTTP: `127.0.0.1:${await freePort()}`,
      NIGHTWATER_TZ: 'UTC',
      ...env,
    },
  });
  child.stderr.on('data', (chunk) => said.push(String(chunk)));
  const { url, token } = await answering(child, folder, said);
  const answeredInMs = performance.now() - began;
  const headers = { authorization: `Bearer ${token}` };
  const screens: Socket[] = [];
  return {
    pid: child.pid ?? 0,
    url,
    answeredInMs,
    ask: async (path, body) => {
      const sent =
        body === undefined
          ? { headers }
          : { method: 'POST', headers: { ...headers, 'content-type': 'application/json' }, body: JSON.stringify(body) };
      const answer = await fetch(`${url}/api/v1${path}`, sent);
      if (!answer.ok) throw new Error(`${path}: ${answer.status} ${await answer.text()}`);
      return answer.json();
    },
    screen: async () => {
      const socket: Socket<ServerEvents, Record<string, never>> = io(url, {
        auth: { token },
        transports: ['websocket'],
      });
      screens.push(socket);
      await new Promise<void>((resolve, reject) => {
        socket.once('picture', () => resolve());
        socket.once('connect_error', reject);
      });
      return socket;
    },
    memoryMb: () => residentMb(child.pid ?? 0),
    stop: async () => {
      for (const screen of screens) screen.disconnect();
      if (child.exitCode !== null) return;
      const ended = once(child, 'exit');
      child.kill('SIGTERM');
      await ended;
    },
  };
};

/** A start without a snapshot replays two days of every probe. */
const LONGEST_START_MS = 600_000;

const answering = async (child: ChildProcess, folder: string, said: readonly string[]) => {
  const untilMs = performance.now() + LONGEST_START_MS;
  while (performance.now() < untilMs && child.exitCode === null) {
    const key = findLocalKey(folder);
    const answer =
      key === undefined || key.url === '' ? undefined : await fetch(`${key.url}/api/v1/health`).catch(() => undefined);
    if (key !== undefined && answer?.ok === true) return key;
    await pause(20);
  }
  child.kill('SIGKILL');
  throw new Error(`The gateway did not start: ${said.join('')}`);
};

/** Resident set of a process, from /proc. */
export const residentMb = (pid: number): number => {
  const line = /^VmRSS:\s+(\d+) kB$/m.exec(readFileSync(`/proc/${pid}/status`, 'utf8'));
  return Number(line?.[1]) / 1_024;
};
