import { type ChildProcess, fork } from 'node:child_process';
import { once } from 'node:events';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

/** A gateway in a process of its own, whose clock this one turns; else it is spoken to over HTTP and MQTT only. */
export type NightGateway = {
  readonly broker: string;
  /** Lets so much time pass there; its clock afterwards, when all that was due has been sent. */
  pass(ms: number): Promise<number>;
  /** A request as the owner of the machine; the answer, or an error with what the gateway said. */
  ask(method: 'GET' | 'POST' | 'PUT', path: string, body?: unknown, version?: number): Promise<unknown>;
  close(): Promise<void>;
};

/** Compiled beside this file: the only thing that it is given and `nightwater start` is not, is its clock. */
const PROGRAM = fileURLToPath(new URL('../../tests/support/night-gateway.js', import.meta.url));

type Said = { readonly url?: string; readonly broker?: string; readonly nowMs?: number };

const hears = (child: ChildProcess): Promise<Said> =>
  new Promise((resolve, reject) => {
    const gone = (code: number | null): void =>
      reject(new Error(`The gateway of the story ended with ${String(code)}`));
    child.once('exit', gone);
    child.once('message', (said) => {
      child.off('exit', gone);
      resolve(said as Said);
    });
  });

export const startNightGateway = async (folder: string, startMs: number): Promise<NightGateway> => {
  const child = fork(PROGRAM, [folder, String(startMs)], { stdio: ['ignore', 'inherit', 'inherit', 'ipc'] });
  const { broker = '' } = await hears(child);
  const { url, token } = JSON.parse(await readFile(join(folder, 'running.json'), 'utf8')) as {
    url: string;
    token: string;
  };
  return {
    broker,
    pass: async (ms) => {
      const said = hears(child);
      child.send({ passMs: ms });
      return (await said).nowMs ?? 0;
    },
    ask: async (method, path, body, version) => {
      const answer = await fetch(`${url}/api/v1${path}`, {
        method,
        headers: {
          authorization: `Bearer ${token}`,
          ...(body === undefined ? {} : { 'content-type': 'application/json' }),
          ...(version === undefined ? {} : { 'if-match': `"${version}"` }),
        },
        ...(body === undefined ? {} : { body: JSON.stringify(body) }),
      });
      const text = await answer.text();
      if (!answer.ok) throw new Error(`${method} ${path}: ${answer.status} ${text}`);
      return text === '' ? undefined : (JSON.parse(text) as unknown);
    },
    close: async () => {
      const ended = once(child, 'exit');
      child.send({});
      await ended;
    },
  };
};
