import { type ChildProcess, execFileSync, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, readdirSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import type { DayColumns } from '../../gateway/journal/sealed/day.js';
import { startInfluxd } from '../support/influxd.js';
import { freePort } from '../support/mosquitto.js';

/** Another program that keeps series of numbers, for the same readings on the same machine. */
export type TimeSeriesPeer = {
  readonly name: string;
  write(source: string, columns: DayColumns): Promise<void>;
  /** Least, mean and greatest of `raw` in steps of whole hours; how many steps answered. */
  buckets(source: string, fromMs: number, toMs: number, hours: number): Promise<number>;
  /** Bytes on disk when it has put everything in its final form, as far as it does so within two minutes. */
  settledBytes(): Promise<number>;
  close(): Promise<void>;
};

/** Why a program cannot be used, or undefined. */
export const missing = (program: string): string | undefined => {
  try {
    execFileSync('/usr/bin/which', [program], { stdio: 'pipe' });
    return undefined;
  } catch {
    return `no ${program}: apt install it from Debian to compare`;
  }
};

type Started = { readonly child: ChildProcess; readonly folder: string; readonly url: string };

const start = async (
  program: string,
  settle: (folder: string, port: number) => Promise<{ args: readonly string[]; env?: NodeJS.ProcessEnv }>,
  ready: string,
): Promise<Started> => {
  const folder = mkdtempSync(join(tmpdir(), 'nightwater-peer-'));
  const port = await freePort();
  const { args, env } = await settle(folder, port);
  const child = spawn(program, args, { stdio: 'ignore', env: { ...process.env, ...env } });
  const url = `http://127.0.0.1:${port}`;
  for (let tries = 0; tries < 150; tries += 1) {
    const answer = await fetch(`${url}${ready}`).catch(() => undefined);
    if (answer?.ok === true) return { child, folder, url };
    await pause(200);
  }
  child.kill('SIGKILL');
  rmSync(folder, { recursive: true, force: true });
  throw new Error(`${program} did not start.`);
};

const stop = async ({ child, folder }: Started): Promise<void> => {
  const ended = once(child, 'exit');
  child.kill('SIGTERM');
  await ended;
  rmSync(folder, { recursive: true, force: true });
};

/** What a file takes on the disk: without the part that was only reserved. */
export const bytesOnDisk = (path: string): number => statSync(path).blocks * 512;

const bytesIn = (folder: string): number =>
  readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .reduce((sum, entry) => sum + bytesOnDisk(join(entry.parentPath, entry.name)), 0);

/** Waits until the folder's size has been the same for ten seconds, at most two minutes. */
const settled = async (folder: string): Promise<number> => {
  let [before, calm] = [-1, 0];
  for (let n = 0; n < 60 && calm < 5; n += 1) {
    await pause(2_000);
    const now = bytesIn(folder);
    calm = now === before ? calm + 1 : 0;
    before = now;
  }
  return before;
};

/** Raw value, flags and arrival beside the time, all that we keep of a reading too, as the InfluxDB history writes them (design: measurement `reading`). */
const lines = (source: string, { deviceMs, raw, flags, delayMs }: DayColumns): string =>
  Array.from(
    deviceMs,
    (atMs, n) =>
      `reading,source=${source} raw=${raw[n]},flags=${flags[n]}i,arrival=${atMs + (delayMs[n] ?? 0)}i ${atMs}`,
  ).join('\n');

const post = async (url: string, body: string): Promise<void> => {
  const answer = await fetch(url, { method: 'POST', body });
  if (!answer.ok) throw new Error(`${url}: ${answer.status} ${await answer.text()}`);
};

export const startInflux = async (): Promise<TimeSeriesPeer> => {
  const { url, folder, close } = await startInfluxd();
  await post(`${url}/query?q=${encodeURIComponent('CREATE DATABASE bench')}`, '');
  return {
    name: 'InfluxDB 1.6',
    write: (source, columns) => post(`${url}/write?db=bench&precision=ms`, lines(source, columns)),
    buckets: async (source, fromMs, toMs, hours) => {
      const query = `SELECT min(raw), mean(raw), max(raw) FROM reading WHERE source = '${source}'
        AND time >= ${fromMs}ms AND time < ${toMs}ms GROUP BY time(${hours}h)`;
      const answer = await fetch(`${url}/query?db=bench&epoch=ms&q=${encodeURIComponent(query)}`);
      const { results } = (await answer.json()) as {
        readonly results: readonly { readonly series?: readonly { readonly values: readonly unknown[] }[] }[];
      };
      return results[0]?.series?.[0]?.values.length ?? 0;
    },
    settledBytes: () => settled(folder),
    close,
  };
};

export const startVictoria = async (): Promise<TimeSeriesPeer> => {
  const started = await start(
    'victoria-metrics',
    async (folder, port) => ({
      args: [
        `-storageDataPath=${folder}`,
        `-httpListenAddr=127.0.0.1:${port}`,
        '-retentionPeriod=5y',
        '-loggerLevel=ERROR',
      ],
    }),
    '/health',
  );
  const { url, folder } = started;
  return {
    name: 'VictoriaMetrics 1.79',
    write: (source, columns) => post(`${url}/write?precision=ms`, lines(source, columns)),
    buckets: async (source, fromMs, toMs, hours) => {
      const asked = ['min', 'avg', 'max'].map(async (of) => {
        const query = `${of}_over_time(reading_raw{source="${source}"}[${hours}h])`;
        const span = `start=${fromMs / 1_000}&end=${toMs / 1_000}&step=${hours}h&nocache=1`;
        const answer = await fetch(`${url}/api/v1/query_range?query=${encodeURIComponent(query)}&${span}`);
        const { data: found } = (await answer.json()) as {
          readonly data: { readonly result: readonly { readonly values: readonly unknown[] }[] };
        };
        return found.result[0]?.values.length ?? 0;
      });
      return Math.min(...(await Promise.all(asked)));
    },
    settledBytes: async () => {
      await fetch(`${url}/internal/force_flush`);
      await fetch(`${url}/internal/force_merge`);
      return settled(folder);
    },
    close: () => stop(started),
  };
};
