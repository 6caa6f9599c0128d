import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { connectAsync, type MqttClient } from 'mqtt';
import { PLACE } from '../../gateway/settings.js';
import { mosquittoMissing, startMosquitto } from '../support/mosquitto.js';
import { type Bench, type BenchOptions, type Measured, quantile } from './figure.js';
import { type GatewayProcess, startGatewayProcess } from './gateway-process.js';
import { furnishTanks, openBenchJournal } from './made-history.js';
import { PROBES } from './water.js';

const READINGS_A_SECOND = 500;
const TICK_MS = 20;
/** Of each tank: limits at 25 degC without any delay, so that each crossing is an alarm at once. */
const LIMIT = 25;

const furnish = (folder: string, tanks: number): void => {
  const journal = openBenchJournal(folder);
  const atMs = Date.now() - 3_600_000;
  furnishTanks(journal, tanks, atMs, '/v');
  const wants = { temperature: { limitHigh: LIMIT, onDelayMs: 0, offDelayMs: 0, deadband: 0, confirmed: true } };
  for (let tank = 0; tank < tanks; tank += 1) {
    const id = `t${tank}`;
    const body = { id, kind: 'tank', name: `T${tank}`, order: tank, wants };
    journal.settings.put({
      entity: PLACE,
      id,
      effectiveMs: atMs,
      recordedMs: atMs,
      by: 'bench',
      body,
      expectedVersion: 1,
    });
  }
  journal.close();
};

const send = (client: MqttClient, tank: number, probe: number, value: number): void => {
  const payload = JSON.stringify({ ts: Date.now(), v: value });
  client.publish(`tanks/t${tank}/${PROBES[probe]?.quantity}`, payload, { qos: 1 });
};

/** Readings of all probes but temperature in turn, evenly: what a busy hatchery sends meanwhile. */
const keepBusy = (client: MqttClient, tanks: number): (() => void) => {
  let n = 0;
  const timer = setInterval(() => {
    for (let k = 0; k < (READINGS_A_SECOND * TICK_MS) / 1_000; k += 1) {
      n += 1;
      const probe = 1 + (n % (PROBES.length - 1));
      send(client, Math.floor(n / (PROBES.length - 1)) % tanks, probe, (PROBES[probe]?.middle ?? 0) + (n % 7) / 100);
    }
  }, TICK_MS);
  return () => clearInterval(timer);
};

/** From publishing a crossing to its alarm on a screen, tank by tank; a reading back within ends each. */
const crossings = async (gateway: GatewayProcess, client: MqttClient, tanks: number, seconds: number) => {
  const screen = await gateway.screen();
  const sent = new Map<string, number>();
  const took: number[] = [];
  screen.on('change', (change) => {
    if (change.kind !== 'alarm' || change.alarm.state !== 'unack') return;
    const placeId = change.alarm.finding.placeId ?? '';
    const sentMs = sent.get(placeId);
    if (sentMs === undefined) return;
    took.push(performance.now() - sentMs);
    sent.delete(placeId);
  });
  const untilMs = performance.now() + seconds * 1_000;
  for (let tank = 0; tank < tanks; tank += 1) send(client, tank, 0, LIMIT - 1);
  await pause(1_500);
  let asked = 0;
  for (let n = 0; performance.now() < untilMs && n < tanks; n += 1) {
    sent.set(`t${n}`, performance.now());
    send(client, n, 0, LIMIT + 0.5);
    asked += 1;
    await pause(Math.max(50, (seconds * 1_000) / tanks));
  }
  await pause(2_000);
  return { took, asked };
};

/** The same broker, the same moment, and no gateway: publish to subscribe. */
const roundTrips = async (url: string, client: MqttClient, times: number): Promise<readonly number[]> => {
  const listener = await connectAsync(url);
  await listener.subscribeAsync('echo', { qos: 1 });
  const took: number[] = [];
  for (let n = 0; n < times; n += 1) {
    const began = performance.now();
    const heard = new Promise<void>((resolve) => listener.once('message', () => resolve()));
    client.publish('echo', String(n), { qos: 1 });
    await heard;
    took.push(performance.now() - began);
    await pause(20);
  }
  await listener.endAsync();
  return took;
};

const run = async ({ tanks, seconds }: BenchOptions): Promise<Measured> => {
  const because = mosquittoMissing();
  if (because !== undefined) return { figures: [], skipped: [{ what: 'latency', because }] };
  const folder = mkdtempSync(join(tmpdir(), 'nightwater-bench-'));
  furnish(folder, tanks);
  const mosquitto = await startMosquitto();
  const gateway = await startGatewayProcess(folder, { NIGHTWATER_MQTT: mosquitto.url });
  const client = await connectAsync(mosquitto.url);
  const rest = keepBusy(client, tanks);
  try {
    const { took, asked } = await crossings(gateway, client, tanks, seconds);
    const bare = await roundTrips(mosquitto.url, client, 200);
    const anchor = (share: number) => ({ what: 'bare publish → subscribe', value: quantile(bare, share) });
    return {
      figures: [
        { what: 'alarms that came, of the crossings', value: took.length, unit: `of ${asked}` },
        { what: 'publish → alarm on a screen, p50', value: quantile(took, 0.5), unit: 'ms', anchor: anchor(0.5) },
        {
          what: 'publish → alarm on a screen, p99',
          value: quantile(took, 0.99),
          unit: 'ms',
          anchor: anchor(0.99),
          budget: { most: 250 },
        },
      ],
      skipped: [],
    };
  } finally {
    rest();
    await client.endAsync();
    await gateway.stop();
    await mosquitto.close();
    rmSync(folder, { recursive: true, force: true });
  }
};

export const latencyBench: Bench = {
  name: 'latency',
  about: `publish → alarm on an open screen while ${READINGS_A_SECOND} readings a second come`,
  run,
};
