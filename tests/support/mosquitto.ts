import { type ChildProcess, execFileSync, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { createServer } from 'node:net';
import { tmpdir, userInfo } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';

const PROGRAM = '/usr/sbin/mosquitto';

/** Why the broker of the system cannot be used here, or undefined. */
export const mosquittoMissing = (): string | undefined => {
  try {
    // It prints its usage and ends with 3.
    execFileSync(PROGRAM, ['-h'], { stdio: 'pipe' });
    return undefined;
  } catch (error) {
    return error instanceof Error && 'status' in error && error.status === 3 ? undefined : `no ${PROGRAM}`;
  }
};

export type Mosquitto = {
  readonly url: string;
  readonly port: number;
  /** Ends it in an orderly way: it saves its sessions and queues. */
  readonly stop: () => Promise<void>;
  /** Starts it again on the same port with what it saved. */
  readonly start: () => Promise<void>;
  /** Stops it and removes what it saved. */
  readonly close: () => Promise<void>;
};

/** A broker of our own on 127.0.0.1, on a free port where none is told, set as design and README ask: persistence, and a queue without end. */
export const startMosquitto = async (
  settings: readonly string[] = ['allow_anonymous true'],
  onPort?: number,
): Promise<Mosquitto> => {
  const folder = await mkdtemp(join(tmpdir(), 'nightwater-mosquitto-'));
  const port = onPort ?? (await freePort());
  const config = join(folder, 'mosquitto.conf');
  const lines = [
    `listener ${port} 127.0.0.1`,
    `user ${userInfo().username}`,
    'persistence true',
    `persistence_location ${folder}/`,
    'max_queued_messages 0',
    'log_dest stderr',
    'log_type information',
    ...settings,
  ];
  await writeFile(config, `${lines.join('\n')}\n`);
  let running: ChildProcess | undefined;
  const start = async (): Promise<void> => {
    running = await launched(config);
  };
  const stop = async (): Promise<void> => {
    if (running === undefined || running.exitCode !== null) return;
    const ended = once(running, 'exit');
    running.kill('SIGTERM');
    await ended;
  };
  await start();
  return {
    url: `mqtt://127.0.0.1:${port}`,
    port,
    start,
    stop,
    close: async () => {
      await stop();
      await rm(folder, { recursive: true });
    },
  };
};

const launched = async (config: string): Promise<ChildProcess> => {
  const program = spawn(PROGRAM, ['-c', config], { stdio: ['ignore', 'ignore', 'pipe'] });
  const said: string[] = [];
  for await (const line of createInterface({ input: program.stderr })) {
    said.push(line);
    if (line.includes('running')) {
      // Leaving the loop closes the reader; what it says later must not fill the pipe.
      program.stderr.resume();
      return program;
    }
  }
  throw new Error(`mosquitto did not start: ${said.join(' | ')}`);
};

export const freePort = async (): Promise<number> => {
  const server = createServer().listen(0, '127.0.0.1');
  await once(server, 'listening');
  const address = server.address();
  const closed = once(server, 'close');
  server.close();
  await closed;
  if (address === null || typeof address === 'string') throw new Error('no port');
  return address.port;
};
