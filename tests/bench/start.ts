import { cpSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { connectAsync } from 'mqtt';
import { freePort } from '../support/mosquitto.js';
import type { Bench, BenchOptions, Measured } from './figure.js';
import { startGatewayProcess } from './gateway-process.js';
import { type MadeHistory, madeHistory } from './made-history.js';

type Start = { readonly answeredMs: number; readonly judgedMs: number };

/** From the start of the process to the first answer, and until a screen shows a reading that was published then. */
const timeStart = async (folder: string): Promise<Start> => {
  const port = await freePort();
  const began = performance.now();
  const gateway = await startGatewayProcess(folder, { NIGHTWATER_MQTT_LISTEN: `127.0.0.1:${port}` });
  try {
    const screen = await gateway.screen();
    const judged = new Promise<void>((resolve) => {
      screen.on('channels', ({ readings }) => {
        if (readings > 0) resolve();
      });
    });
    const board = await connectAsync(`mqtt://127.0.0.1:${port}`);
    await board.publishAsync('tanks/t0/temperature', '21.3', { qos: 1 });
    await judged;
    const judgedMs = performance.now() - began;
    await board.endAsync();
    return { answeredMs: gateway.answeredInMs, judgedMs };
  } finally {
    await gateway.stop();
  }
};

const inCopy = async <T>(made: MadeHistory, work: (folder: string) => Promise<T>): Promise<T> => {
  const folder = mkdtempSync(join(tmpdir(), 'nightwater-bench-'));
  try {
    cpSync(made.folder, folder, { recursive: true });
    return await work(folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
};

const run = async (options: BenchOptions): Promise<Measured> => {
  const made = await madeHistory(options);
  return inCopy(made, async (folder) => {
    options.say('starting from the record alone ...');
    const rebuilt = await timeStart(folder);
    // It left a snapshot when it stopped.
    options.say('starting from the snapshot ...');
    const started = await timeStart(folder);
    return {
      figures: [
        { what: 'readings in the journal', value: made.readings, unit: 'readings' },
        { what: 'start to the first answer', value: started.answeredMs / 1_000, unit: 's' },
        {
          what: 'start to the first judged reading on a screen',
          value: started.judgedMs / 1_000,
          unit: 's',
          budget: { most: 5 },
        },
        { what: 'the same without a snapshot, 48 h replayed', value: rebuilt.judgedMs / 1_000, unit: 's' },
      ],
      skipped: [],
    };
  });
};

export const startBench: Bench = { name: 'start', about: 'start-up with a long history behind it', run };
