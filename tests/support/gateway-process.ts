import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import { findLocalKey } from '../../gateway/access/local-key.js';

/** The command line as it was built: `pretest` has made it. */
export const MAIN_JS = fileURLToPath(new URL('../../dist/gateway/cli/main.js', import.meta.url));

type Variables = Readonly<Record<string, string>>;

export type Asked = { readonly method?: string; readonly body?: unknown; readonly ifMatch?: string };
export type Answer = { readonly status: number; readonly text: string };

/** A gateway as a process of its own, as a person starts it; the test may kill it and start it again. */
export type GatewayProcess = {
  /** Its data folder; it was started in the folder above, so that no `.env` of ours is read. */
  readonly data: string;
  readonly url: () => string;
  /** Where boards publish. */
  readonly broker: () => string;
  readonly brokerPort: () => number;
  /** The code for the first manager, when it printed one. */
  readonly firstCode: () => string | undefined;
  /** Every line that it said, over all its starts, without its name before it. */
  readonly said: readonly string[];
  /** The first line of this start that fits, when it has been said. */
  readonly says: (wanted: RegExp) => Promise<RegExpExecArray>;
  /** The API, with the right that the data folder's owner has. */
  readonly ask: (path: string, asked?: Asked) => Promise<Answer>;
  /** Ends it, and tells its exit code; null when the signal ended it. */
  readonly kill: (signal?: NodeJS.Signals) => Promise<number | null>;
  /** Starts it again with what it left. */
  readonly restart: () => Promise<void>;
  /** Kills it if it still runs, and removes its folder. */
  readonly close: () => Promise<void>;
};

const FREE = { NIGHTWATER_HTTP: '127.0.0.1:0', NIGHTWATER_MQTT_LISTEN: '127.0.0.1:0' };

/** The variables of whoever runs the tests are not ours to believe. */
const environmentWith = (variables: Variables): NodeJS.ProcessEnv => ({
  ...Object.fromEntries(Object.entries(process.env).filter(([name]) => !name.startsWith('NIGHTWATER_'))),
  ...variables,
});

type Running = {
  readonly child: ChildProcess;
  readonly said: string[];
  readonly says: (wanted: RegExp) => Promise<RegExpExecArray>;
  readonly ended: Promise<number | null>;
};

const run = (args: readonly string[], folder: string, variables: Variables, hear: (line: string) => void): Running => {
  const child = spawn(process.execPath, [MAIN_JS, ...args], {
    cwd: folder,
    env: environmentWith(variables),
    stdio: ['ignore', 'ignore', 'pipe'],
  });
  const said: string[] = [];
  const waiting = new Set<() => void>();
  const look = (): void => {
    for (const each of waiting) each();
  };
  let over = false;
  const reader = createInterface({ input: child.stderr }).on('line', (line) => {
    const plain = line.replace(/^nightwater: /, '');
    said.push(plain);
    hear(plain);
    look();
  });
  const ended = Promise.all([once(child, 'exit'), once(reader, 'close')]).then(([[code]]) => {
    over = true;
    look();
    return code as number | null;
  });
  const says = (wanted: RegExp): Promise<RegExpExecArray> =>
    new Promise((resolve, reject) => {
      const see = (): void => {
        const found = said.map((line) => wanted.exec(line)).find((each) => each !== null);
        if (found === undefined && !over) return;
        waiting.delete(see);
        if (found === undefined) reject(new Error(`it ended without saying ${wanted}: ${said.join(' | ')}`));
        else resolve(found);
      };
      waiting.add(see);
      see();
    });
  return { child, said, says, ended };
};

/** Runs one command to its end, as at a terminal: its exit code, and what it said. */
export const runCommand = async (
  args: readonly string[],
  variables: Variables = {},
  folder: string = tmpdir(),
): Promise<{ readonly code: number | null; readonly out: string; readonly err: string }> => {
  const child = spawn(process.execPath, [MAIN_JS, ...args], {
    cwd: folder,
    env: environmentWith(variables),
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  const pieces: { readonly out: Buffer[]; readonly err: Buffer[] } = { out: [], err: [] };
  child.stdout.on('data', (piece: Buffer) => pieces.out.push(piece));
  child.stderr.on('data', (piece: Buffer) => pieces.err.push(piece));
  const [code] = (await once(child, 'close')) as [number | null];
  const text = (all: readonly Buffer[]): string => Buffer.concat(all).toString('utf8');
  return { code, out: text(pieces.out), err: text(pieces.err) };
};

/** Tries a start that must fail, in a folder that may hold a `.env`: its exit code, and what it said. */
export const failedStart = async (
  variables: Variables,
  folder: string = tmpdir(),
): Promise<{ readonly code: number | null; readonly said: readonly string[] }> => {
  const { code, err } = await runCommand(['start'], { ...FREE, ...variables }, folder);
  const said = err.split('\n').filter((line) => line !== '');
  return { code, said: said.map((line) => line.replace(/^nightwater: /, '')) };
};

export type StartOptions = {
  readonly command?: readonly string[];
  /** Over free ports of 127.0.0.1 and a data folder of its own. */
  readonly variables?: Variables;
  /** Done with the data folder before the first start. */
  readonly prepare?: (data: string) => void | Promise<void>;
};

/** Starts `nightwater start` (or another command that stays) in a fresh folder, and resolves when its pages are open. */
export const startGatewayProcess = async (options: StartOptions = {}): Promise<GatewayProcess> => {
  const { command = ['start'], variables = {}, prepare } = options;
  const folder = mkdtempSync(join(tmpdir(), 'nightwater-gateway-'));
  const data = join(folder, 'data');
  const { NIGHTWATER_MQTT_LISTEN: listen, ...http } = FREE;
  const free = variables.NIGHTWATER_MQTT === undefined ? { ...http, NIGHTWATER_MQTT_LISTEN: listen } : http;
  await prepare?.(data);
  const all = { NIGHTWATER_DATA: data, ...free, ...variables };
  const said: string[] = [];
  const begin = (): Running => run(command, folder, all, (line) => said.push(line));
  let running = begin();
  let [url, broker, firstCode] = ['', '', undefined as string | undefined];
  const open = async (): Promise<void> => {
    [, broker = ''] = await running.says(/^boards publish to (\S+)/);
    [, url = ''] = await running.says(/^(?:open|the demo is open at) (\S+)/);
    firstCode = undefined;
    if (command[0] === 'start' && (await isWithoutManager(url)))
      [, firstCode] = await running.says(/^the code for the first manager, .*: (\S+)$/);
  };
  const kill = async (signal: NodeJS.Signals = 'SIGTERM'): Promise<number | null> => {
    running.child.kill(signal);
    return running.ended;
  };
  const close = async (): Promise<void> => {
    await kill('SIGKILL');
    rmSync(folder, { recursive: true, force: true });
  };
  try {
    await open();
  } catch (error) {
    await close();
    throw error;
  }
  return {
    data,
    url: () => url,
    broker: () => broker,
    brokerPort: () => Number(broker.split(':').at(-1)),
    firstCode: () => firstCode,
    said,
    says: (wanted) => running.says(wanted),
    ask: (path, asked) => ask(data, path, asked),
    kill,
    restart: async () => {
      running = begin();
      await open();
    },
    close,
  };
};

const isWithoutManager = async (url: string): Promise<boolean> => {
  const answer = await fetch(`${url}/api/v1/session`);
  return ((await answer.json()) as { readonly first: boolean }).first;
};

const ask = async (data: string, path: string, { method = 'GET', body, ifMatch }: Asked = {}): Promise<Answer> => {
  const key = findLocalKey(data);
  if (key === undefined) throw new Error('no gateway runs on this folder');
  const answer = await fetch(`${key.url}/api/v1${path}`, {
    method,
    headers: {
      authorization: `Bearer ${key.token}`,
      ...(body === undefined ? {} : { 'content-type': 'application/json' }),
      ...(ifMatch === undefined ? {} : { 'if-match': ifMatch }),
    },
    ...(body === undefined ? {} : { body: JSON.stringify(body) }),
  });
  return { status: answer.status, text: await answer.text() };
};

/** Asks an address of the API again and again until its answer fits. The pace is that of the answers. */
export const untilAnswer = async <T>(
  gateway: Pick<GatewayProcess, 'ask'>,
  path: string,
  fits: (answer: T) => boolean,
): Promise<T> => {
  for (;;) {
    const { status, text } = await gateway.ask(path);
    if (status !== 200) throw new Error(`${path} answered ${status}: ${text}`);
    const answer = JSON.parse(text) as T;
    if (fits(answer)) return answer;
  }
};

/** The link to the broker stands: from now on it keeps for us what is published. */
export const untilLinked = async (gateway: GatewayProcess): Promise<void> => {
  await untilAnswer<{ readonly broker: string }>(gateway, '/health', ({ broker }) => broker === 'up');
};
