import { randomBytes } from 'node:crypto';
import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { makeUlid } from '../rules/log/ulid.js';
import { prepareFirstCode } from './access/first-code.js';
import { systemClock } from './clock.js';
import { loadConfig } from './config.js';
import { furnishDemo } from './demo/furnish.js';
import type { InventedHatchery } from './demo/invented-hatchery.js';
import { loadEnvironment } from './environment.js';
import { beFrugal } from './frugal.js';
import { type Gateway, type GatewayParts, startGateway } from './gateway.js';
import type { LogDesk } from './log-desk.js';

export type RunOptions = {
  readonly env: NodeJS.ProcessEnv;
  /** Over an invented hatchery, which lives so many days of its past first. */
  readonly demo?: { readonly pastDays: number };
  /** Another site, whose Nightwater this one watches. */
  readonly watch?: NonNullable<GatewayParts['watch']>;
};

const say = (line: string): void => {
  process.stderr.write(`nightwater: ${line}\n`);
};

const up = (path: string): string =>
  fileURLToPath(new URL(import.meta.url.endsWith('.ts') ? `../${path}` : `../../${path}`, import.meta.url));

const textOr = (path: string, otherwise: string): string =>
  existsSync(path) ? readFileSync(path, 'utf8').trim() : otherwise;

const version = (): string => {
  const { version: found } = JSON.parse(textOr(up('package.json'), '{}')) as { version?: string };
  return found ?? '0.0.0';
};

/** Ends with the first of the signals that ask for it. */
const untilAsked = (): Promise<void> =>
  new Promise((resolve) => {
    for (const signal of ['SIGINT', 'SIGTERM'] as const) process.once(signal, () => resolve());
  });

/** The invented people write into the log like any others. */
const hearDeclaredWork = async (world: InventedHatchery, log: LogDesk): Promise<void> => {
  for await (const line of world.lines) {
    if (line.kind !== 'work') continue;
    const { placeId, work, by, fromMs: atMs, untilMs } = line;
    const minutes = Math.max(1, (untilMs - atMs) / 60_000);
    log.write(
      { id: makeUlid(Date.now(), randomBytes(10)), atMs, kind: 'work', placeId, fields: { work, minutes } },
      by,
    );
  }
};

/** Starts the gateway and stays until it is asked to stop. The exit code: 0 stopped as asked, 1 could not start. */
export const runGateway = async ({ env, demo, watch }: RunOptions): Promise<number> => {
  beFrugal();
  const environment = loadEnvironment(env);
  if (!environment.ok) {
    say(environment.fault);
    return 1;
  }
  const config = loadConfig(environment.value, { demo: demo !== undefined });
  if (!config.ok) {
    for (const { sentence } of config.fault) say(sentence);
    return 1;
  }
  let world: InventedHatchery | undefined;
  const parts: GatewayParts = {
    config: config.value,
    clock: systemClock,
    version: version(),
    build: textOr(up('dist/.built'), 'unbuilt').slice(0, 12),
    pages: up('dist/site'),
    say,
    ...(watch === undefined ? {} : { watch }),
    ...(demo === undefined
      ? {}
      : {
          demo: {
            furnish: async (journal) => {
              world = await furnishDemo(journal, { nowMs: Date.now(), pastDays: demo.pastDays, say });
            },
          },
        }),
  };
  const started = await startGateway(parts);
  if (!started.ok) {
    say(started.fault);
    await world?.close();
    return 1;
  }
  await greet(started.value, demo !== undefined);
  world?.goLive(started.value.broker);
  if (world !== undefined) void hearDeclaredWork(world, started.value.log);
  await untilAsked();
  say('stopping ...');
  await world?.close();
  await started.value.close();
  return 0;
};

const greet = async ({ url, journal }: Gateway, demo: boolean): Promise<void> => {
  if (demo) {
    say(`the demo is open at ${url} (this machine only; stop it with Ctrl+C)`);
    return;
  }
  const code = await prepareFirstCode(journal);
  say(`open ${url}`);
  if (code !== undefined) say(`the code for the first manager, good for one use: ${code}`);
};
