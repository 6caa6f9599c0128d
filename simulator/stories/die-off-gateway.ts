import { fork } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { SimulatorLine } from '../../rules/wire/simulated.js';
import { placesOf, SOURCES } from './die-off-plant.js';
import { type DieOff, dieOffReadings } from './die-off-water.js';

/** Compiled beside this file: the gateway that lives through what it is told. */
const PROGRAM = fileURLToPath(new URL('../../tests/support/die-off-gateway.js', import.meta.url));
const PAGES = fileURLToPath(new URL('../../site/', import.meta.url));
const MINUTE_MS = 60_000;

export type DieOffGateway = {
  readonly url: string;
  /** The answer's text, or an error with what the gateway said. */
  ask(method: 'GET' | 'POST', path: string, body?: unknown): Promise<string>;
  close(): Promise<void>;
};

/** The drain-down as somebody declared it: a little before the drain was opened, and over when the tank was full again. */
export const declaredSpan = ({ drained }: DieOff): { readonly fromMs: number; readonly toMs: number } => ({
  fromMs: drained.fromMs - 5 * MINUTE_MS,
  toMs: drained.toMs + 25 * MINUTE_MS,
});

function* linesOf(dieOff: DieOff, seed: number): Generator<SimulatorLine> {
  const site = { name: 'Wrack Cove Hatchery', zone: 'Europe/Lisbon', temperatureUnit: 'C', hours: 24 } as const;
  yield { kind: 'hatchery', site, places: placesOf(dieOff.startMs - 20 * 86_400_000), sources: SOURCES };
  const { fromMs, toMs: untilMs } = declaredSpan(dieOff);
  let isDeclared = false;
  for (const readings of dieOffReadings(dieOff, seed)) {
    if (!isDeclared && (readings.at(-1)?.[1] ?? 0) >= fromMs) {
      isDeclared = true;
      yield { kind: 'work', placeId: 'n2', work: 'drain-down', by: 'Asta', fromMs, untilMs };
    }
    yield { kind: 'past', readings };
  }
  yield { kind: 'ready' };
}

type Said = { readonly listening?: true; readonly url?: string };

/** A gateway in a process of its own that has lived through the days before the deaths. */
export const startDieOffGateway = async (dieOff: DieOff, seed: number): Promise<DieOffGateway> => {
  const folder = await mkdtemp(join(tmpdir(), 'nightwater-story-'));
  const child = fork(PROGRAM, [folder, PAGES], { stdio: ['ignore', 'inherit', 'inherit', 'ipc'] });
  const hears = async (): Promise<Said> => {
    const [said] = (await Promise.race([
      once(child, 'message'),
      once(child, 'exit').then(([code]) =>
        Promise.reject(new Error(`The gateway of the story ended with ${String(code)}`)),
      ),
    ])) as [Said];
    return said;
  };
  await hears();
  const standing = hears();
  for (const line of linesOf(dieOff, seed)) child.send(line);
  const { url = '' } = await standing;
  return {
    url,
    ask: async (method, path, body) => {
      const sent =
        body === undefined ? {} : { body: JSON.stringify(body), headers: { 'content-type': 'application/json' } };
      const answer = await fetch(`${url}/api/v1${path}`, { method, ...sent });
      const text = await answer.text();
      if (!answer.ok) throw new Error(`${method} ${path}: ${answer.status} ${text}`);
      return text;
    },
    close: async () => {
      if (child.connected) {
        const ended = once(child, 'exit');
        child.send({ end: true });
        await ended;
      }
      await rm(folder, { recursive: true, force: true });
    },
  };
};
