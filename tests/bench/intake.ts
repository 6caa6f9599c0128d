import { fork } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { connectAsync } from 'mqtt';
import { type Mosquitto, mosquittoMissing, startMosquitto } from '../support/mosquitto.js';
import type { Bench, BenchOptions, Figure, Measured } from './figure.js';
import { startGatewayProcess } from './gateway-process.js';
import { furnishTanks, openBenchJournal } from './made-history.js';
import { PROBES } from './water.js';

/** Readings of each probe that the broker holds for a receiver that was away: so that no sender is part of the measure. */
const ROUNDS = 150;
/** Stamps lie so close that all of them are fresh when they are received. */
const SPACING_MS = 100;

const topicOf = (tank: number, probe: number): string => `tanks/t${tank}/${PROBES[probe]?.quantity}`;

const publishAll = async (url: string, tanks: number): Promise<number> => {
  const client = await connectAsync(url, { clientId: 'bench-boards' });
  const fromMs = Date.now() - ROUNDS * SPACING_MS;
  let sent = 0;
  for (let round = 0; round < ROUNDS; round += 1) {
    const waiting: Promise<unknown>[] = [];
    for (let tank = 0; tank < tanks; tank += 1) {
      for (const [probe, { middle, noise, perUnit }] of PROBES.entries()) {
        const value = Math.round((middle + noise * Math.sin(round * 7 + tank)) * perUnit) / perUnit;
        const payload = JSON.stringify({ ts: fromMs + round * SPACING_MS, v: value });
        waiting.push(client.publishAsync(topicOf(tank, probe), payload, { qos: 1 }));
        sent += 1;
      }
    }
    await Promise.all(waiting);
  }
  await client.endAsync();
  return sent;
};

/** A process that is made to wait while the broker fills, and is timed from when it may go on. */
type Receiver = {
  readonly pid: number;
  /** When it has received all of them. */
  readonly done: Promise<unknown>;
  readonly stop: () => Promise<void>;
};

const startBare = async (url: string, expected: number): Promise<Receiver> => {
  const child = fork(fileURLToPath(new URL('./bare-subscriber.js', import.meta.url)), [url, String(expected)]);
  await once(child, 'message');
  return {
    pid: child.pid ?? 0,
    done: once(child, 'message'),
    stop: async () => {
      const ended = once(child, 'exit');
      child.kill();
      await ended;
    },
  };
};

const startOwn = async (folder: string, url: string, expected: number): Promise<Receiver> => {
  const gateway = await startGatewayProcess(folder, { NIGHTWATER_MQTT: url });
  const screen = await gateway.screen();
  let landed = 0;
  const done = new Promise<void>((resolve) => {
    screen.on('channels', ({ readings }) => {
      landed += readings;
      if (landed >= expected) resolve();
    });
  });
  return { pid: gateway.pid, done, stop: gateway.stop };
};

/** Messages a second that a receiver takes from the full broker. */
const rateOf = async ({ pid, done }: Receiver, sent: number): Promise<number> => {
  const began = performance.now();
  process.kill(pid, 'SIGCONT');
  await done;
  return (sent * 1_000) / (performance.now() - began);
};

const measure = async ({ url }: Mosquitto, { tanks, say }: BenchOptions): Promise<readonly [number, number]> => {
  const folder = mkdtempSync(join(tmpdir(), 'nightwater-bench-'));
  const journal = openBenchJournal(folder);
  furnishTanks(journal, tanks, Date.now() - 3_600_000, '/v');
  journal.close();
  const expected = tanks * PROBES.length * ROUNDS;
  const receivers = [await startBare(url, expected), await startOwn(folder, url, expected)] as const;
  try {
    for (const { pid } of receivers) process.kill(pid, 'SIGSTOP');
    const sent = await publishAll(url, tanks);
    say(`${sent} messages wait at the broker`);
    return [await rateOf(receivers[0], sent), await rateOf(receivers[1], sent)];
  } finally {
    for (const { pid, stop } of receivers) {
      process.kill(pid, 'SIGCONT');
      await stop();
    }
    rmSync(folder, { recursive: true, force: true });
  }
};

/** As the broker comes, and with as many messages on their way at once as there are. */
const INFLIGHT = [
  ['as the broker is set out of the box', []],
  ['with max_inflight_messages 0', ['max_inflight_messages 0']],
] as const;

const run = async (options: BenchOptions): Promise<Measured> => {
  const because = mosquittoMissing();
  if (because !== undefined) return { figures: [], skipped: [{ what: 'intake', because }] };
  const figures: Figure[] = [];
  for (const [words, settings] of INFLIGHT) {
    const mosquitto = await startMosquitto(['allow_anonymous true', ...settings]);
    try {
      const [bare, own] = await measure(mosquitto, options);
      figures.push({
        what: `QoS 1 messages judged and committed, ${words}`,
        value: own,
        unit: 'messages/s',
        anchor: { what: 'bare subscriber that parses', value: bare },
      });
      figures.push({ what: 'share of the bare rate', value: own / bare, unit: 'of 1', budget: { least: 0.5 } });
    } finally {
      await mosquitto.close();
    }
  }
  return { figures, skipped: [] };
};

export const intakeBench: Bench = {
  name: 'intake',
  about: 'QoS 1 messages to a durable commit, beside a bare subscriber of the same broker',
  run,
};
