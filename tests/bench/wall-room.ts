import { rmSync } from 'node:fs';
import { mkdtemp } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { connectAsync } from 'mqtt';
import { systemClock } from '../../gateway/clock.js';
import { startGateway } from '../../gateway/gateway.js';
import type { Journal } from '../../gateway/journal/journal.js';
import { ensureSite, keepPlace } from '../../gateway/settings.js';
import type { Quantity } from '../../rules/quantity.js';
import { freePort } from '../support/mosquitto.js';

/** Seen from where the compiled bench lies. */
const SITE = fileURLToPath(new URL('../../site', import.meta.url));

const LINES = 6;
const TRAIL_MS = 3 * 3_600_000;
const TRAIL_STEP_MS = 60_000;
const GOOD_FLAGS = 0;

type Probe = { readonly quantity: Quantity; readonly unit: string; readonly middle: number; readonly half: number };

/** Each lies in its target; the fifth tank of a line is too warm, so that there is something to say. */
const PROBES: readonly Probe[] = [
  { quantity: 'temperature', unit: 'degC', middle: 26, half: 2 },
  { quantity: 'salinity', unit: 'ppt', middle: 30, half: 3 },
  { quantity: 'oxygen-saturation', unit: '%', middle: 92, half: 12 },
  { quantity: 'ph', unit: 'pH', middle: 8.1, half: 0.3 },
];

const valueAt = ({ middle, half, quantity }: Probe, tank: number, atMs: number): number => {
  const warm = quantity === 'temperature' && tank % 10 === 4 ? 1.5 : 0;
  return middle + half * (warm + 0.5 * Math.sin(atMs / 600_000 + tank) + 0.05 * Math.sin(atMs / 900 + 7 * tank));
};

const wantsOf = ({ middle, half }: Probe) => ({
  targetLow: middle - half,
  targetHigh: middle + half,
  limitLow: middle - 2 * half,
  limitHigh: middle + 2 * half,
  confirmed: true,
});

const furnish = (journal: Journal, tanks: number, nowMs: number): void => {
  ensureSite(journal, { name: 'Bench', zone: 'UTC', nowMs: nowMs - TRAIL_MS });
  const keep = (place: Parameters<typeof keepPlace>[1]): void => keepPlace(journal, place, 'bench', nowMs - TRAIL_MS);
  for (let line = 0; line < LINES; line += 1)
    keep({ id: `line-${line}`, kind: 'line', name: `Line ${line + 1}`, order: line });
  for (let tank = 0; tank < tanks; tank += 1) {
    const line = Math.floor((tank * LINES) / tanks);
    const wants = Object.fromEntries(PROBES.map((probe) => [probe.quantity, wantsOf(probe)]));
    keep({
      id: `t${tank}`,
      kind: 'tank',
      name: `T${tank + 1}`,
      order: tank,
      lineId: `line-${line}`,
      stage: 'larva',
      wants,
    });
    for (const probe of PROBES) nameProbe(journal, probe, tank, nowMs);
  }
};

/** A probe that is named already, and the last three hours of it. */
const nameProbe = (journal: Journal, probe: Probe, tank: number, nowMs: number): void => {
  const { quantity, unit } = probe;
  const topic = `tanks/t${tank}/${quantity}`;
  const fromMs = nowMs - TRAIL_MS;
  const { id: sourceId } = journal.sources.ensure({ key: topic, topic, firstSeenMs: fromMs });
  const channelId = `t${tank}.${quantity}`;
  journal.mappings.name({ sourceId, channelId, unit, fromMs, ruling: true, periodMs: 1_000 }, 'bench', fromMs);
  const atMs = Array.from({ length: TRAIL_MS / TRAIL_STEP_MS }, (_, n) => fromMs + n * TRAIL_STEP_MS);
  journal.importHistory(
    atMs.map((at) => ({
      sourceId,
      deviceMs: at,
      arrivalMs: at,
      raw: valueAt(probe, tank, at),
      flags: GOOD_FLAGS,
    })),
  );
};

/** A gateway with so many tanks of four probes on six lines, each probe publishing once a second through its broker. */
export const openWallRoom = async (tanks: number) => {
  const dataFolder = await mkdtemp(join(tmpdir(), 'nightwater-bench-'));
  const port = await freePort();
  const started = await startGateway({
    config: {
      dataFolder,
      http: { host: '127.0.0.1', port: await freePort() },
      mqtt: { kind: 'embedded', host: '127.0.0.1', port },
      filters: ['tanks/+/+'],
      history: { kind: 'sqlite' },
      durability: 'second',
    },
    clock: systemClock,
    build: 'bench',
    version: '0.0.0',
    pages: SITE,
    say: () => undefined,
    demo: { furnish: async (journal) => furnish(journal, tanks, Date.now()) },
  });
  if (!started.ok) throw new Error(started.fault);
  const client = await connectAsync(started.value.broker);
  let turn = 0;
  // A quarter of the tanks each quarter of a second.
  const timer = setInterval(() => {
    turn += 1;
    for (let tank = turn % 4; tank < tanks; tank += 4)
      for (const probe of PROBES)
        client.publish(`tanks/t${tank}/${probe.quantity}`, valueAt(probe, tank, Date.now()).toFixed(2), { qos: 0 });
  }, 250);
  return {
    url: started.value.url,
    probes: PROBES.length,
    close: async (): Promise<void> => {
      clearInterval(timer);
      await client.endAsync();
      await started.value.close();
      rmSync(dataFolder, { recursive: true, force: true });
    },
  };
};
