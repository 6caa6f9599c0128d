import { type ChildProcess, execFileSync, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import { createServer, request as httpRequest } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { freePort } from './mosquitto.js';

/** Why Debian's InfluxDB (package influxdb, 1.6.7) cannot be used here, or undefined. */
export const influxdMissing = (): string | undefined => {
  try {
    execFileSync('influxd', ['version'], { stdio: 'pipe' });
    return undefined;
  } catch {
    return 'no influxd';
  }
};

export type Influxd = {
  readonly url: string;
  readonly folder: string;
  /** A statement of InfluxQL that changes something. */
  readonly does: (statement: string) => Promise<void>;
  /** Ends it at once; `start` finds what it had confirmed. */
  readonly kill: () => Promise<void>;
  readonly start: () => Promise<void>;
  readonly close: () => Promise<void>;
};

/** A database of our own on 127.0.0.1, with its own folder. */
export const startInfluxd = async (): Promise<Influxd> => {
  const folder = mkdtempSync(join(tmpdir(), 'nightwater-influxd-'));
  const [port, inner] = [await freePort(), await freePort()];
  const url = `http://127.0.0.1:${port}`;
  const env = {
    INFLUXDB_META_DIR: join(folder, 'meta'),
    INFLUXDB_DATA_DIR: join(folder, 'data'),
    INFLUXDB_DATA_WAL_DIR: join(folder, 'wal'),
    INFLUXDB_DATA_CACHE_SNAPSHOT_WRITE_COLD_DURATION: '3s',
    INFLUXDB_DATA_COMPACT_FULL_WRITE_COLD_DURATION: '3s',
    INFLUXDB_HTTP_BIND_ADDRESS: `127.0.0.1:${port}`,
    INFLUXDB_HTTP_LOG_ENABLED: 'false',
    INFLUXDB_BIND_ADDRESS: `127.0.0.1:${inner}`,
    INFLUXDB_REPORTING_DISABLED: 'true',
    INFLUXDB_MONITOR_STORE_ENABLED: 'false',
  };
  let running: ChildProcess | undefined;
  const end = async (signal: NodeJS.Signals): Promise<void> => {
    const child = running;
    running = undefined;
    if (child === undefined || child.exitCode !== null) return;
    const ended = once(child, 'exit');
    child.kill(signal);
    await ended;
  };
  const start = async (): Promise<void> => {
    running = spawn('influxd', ['run'], { stdio: 'ignore', env: { ...process.env, ...env } });
    for (let tries = 0; tries < 150; tries += 1) {
      const answer = await fetch(`${url}/ping`).catch(() => undefined);
      if (answer?.ok === true) return;
      await pause(200);
    }
    await end('SIGKILL');
    throw new Error('influxd did not start.');
  };
  await start();
  return {
    url,
    folder,
    does: async (statement) => {
      const answer = await fetch(`${url}/query?q=${encodeURIComponent(statement)}`, { method: 'POST' });
      if (!answer.ok) throw new Error(`${statement}: ${answer.status} ${await answer.text()}`);
    },
    kill: () => end('SIGKILL'),
    start,
    close: async () => {
      await end('SIGTERM');
      rmSync(folder, { recursive: true, force: true });
    },
  };
};

/**
 * 1.6 takes lines at /write only: this door in front of it maps `/api/v2/write?bucket=db/rp` to it, as 1.8 does itself,
 * and lets everything else through.
 */
export const openInfluxDoor = async (url: string) => {
  const server = createServer((asked, answer) => {
    const from = new URL(asked.url ?? '/', url);
    if (from.pathname === '/api/v2/write') {
      const [db = '', rp = ''] = (from.searchParams.get('bucket') ?? '').split('/');
      from.pathname = '/write';
      from.search = new URLSearchParams({ db, rp, precision: from.searchParams.get('precision') ?? 'ns' }).toString();
    }
    const onward = httpRequest(from, { method: asked.method, headers: asked.headers }, (reply) => {
      answer.writeHead(reply.statusCode ?? 502, reply.headers);
      reply.pipe(answer);
    });
    onward.on('error', () => answer.destroy());
    asked.pipe(onward);
  });
  server.listen(0, '127.0.0.1');
  await once(server, 'listening');
  const address = server.address();
  if (address === null || typeof address === 'string') throw new Error('no port');
  return {
    url: `http://127.0.0.1:${address.port}`,
    close: async (): Promise<void> => {
      server.closeAllConnections();
      server.close();
      await once(server, 'close');
    },
  };
};
