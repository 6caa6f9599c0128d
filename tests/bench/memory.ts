import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { connectAsync } from 'mqtt';
import { freePort } from '../support/mosquitto.js';
import type { Bench, BenchOptions, Measured } from './figure.js';
import { startGatewayProcess } from './gateway-process.js';
import { furnishTanks, openBenchJournal } from './made-history.js';
import { makeDay, PERIOD_MS, PROBES } from './water.js';

const DAY_MS = 86_400_000;
const WANTED_HOURS = 24;

/** A day's readings, stamped in yesterday, as fast as the gateway takes them. */
const run = async ({ tanks, seconds, say }: BenchOptions): Promise<Measured> => {
  const folder = mkdtempSync(join(tmpdir(), 'nightwater-bench-'));
  const day = Math.floor(Date.now() / DAY_MS) - 1;
  const journal = openBenchJournal(folder);
  furnishTanks(journal, tanks, day * DAY_MS, '/v');
  journal.close();
  const port = await freePort();
  const gateway = await startGatewayProcess(folder, { NIGHTWATER_MQTT_LISTEN: `127.0.0.1:${port}` });
  const client = await connectAsync(`mqtt://127.0.0.1:${port}`);
  const columns = Array.from({ length: tanks * PROBES.length }, (_, at) =>
    makeDay(Math.floor(at / PROBES.length), at % PROBES.length, day),
  );
  try {
    const atFirst = gateway.memoryMb();
    const untilMs = performance.now() + seconds * 1_000;
    let [round, most] = [0, 0];
    for (; round < (WANTED_HOURS * 3_600_000) / PERIOD_MS && performance.now() < untilMs; round += 1) {
      await Promise.all(
        columns.map(({ deviceMs, raw }, at) => {
          const topic = `tanks/t${Math.floor(at / PROBES.length)}/${PROBES[at % PROBES.length]?.quantity}`;
          return client.publishAsync(topic, JSON.stringify({ ts: deviceMs[round] ?? 0, v: raw[round] ?? 0 }), {
            qos: 1,
          });
        }),
      );
      most = Math.max(most, gateway.memoryMb());
      if (round % 360 === 359) say(`${(round + 1) / 360} simulated hours, ${most.toFixed(0)} MiB`);
    }
    return {
      figures: [
        {
          what: `${tanks} tanks × ${PROBES.length} channels at 10 s`,
          value: (round * PERIOD_MS) / 3_600_000,
          unit: 'simulated h',
        },
        { what: 'resident after the start', value: atFirst, unit: 'MiB' },
        { what: 'resident at most', value: most, unit: 'MiB', budget: { most: 200 } },
      ],
      skipped: [],
    };
  } finally {
    await client.endAsync();
    await gateway.stop();
    rmSync(folder, { recursive: true, force: true });
  }
};

export const memoryBench: Bench = {
  name: 'memory',
  about: 'the gateway process while as many hours as fit come in (24 at most)',
  run,
};
