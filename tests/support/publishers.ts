import { execFile, execFileSync, spawn } from 'node:child_process';
import { once } from 'node:events';
import { promisify } from 'node:util';

const MOSQUITTO_PUB = '/usr/bin/mosquitto_pub';
const PYTHON = '/usr/bin/python3';

export type Message = {
  readonly topic: string;
  readonly payload: string | Uint8Array;
  readonly qos?: 0 | 1;
  readonly retain?: boolean;
};
export type Publish = (port: number, messages: readonly Message[]) => Promise<void>;

const run = promisify(execFile);

/** `execFile` has no standard input, and a payload may hold any byte: `-s` reads it from there. */
export const publishWithMosquitto: Publish = async (port, messages) => {
  for (const { topic, payload, qos = 1, retain = false } of messages) {
    const place = ['-h', '127.0.0.1', '-p', String(port), '-t', topic, '-q', String(qos), ...(retain ? ['-r'] : [])];
    const program = spawn(MOSQUITTO_PUB, [...place, payload.length === 0 ? '-n' : '-s'], {
      stdio: ['pipe', 'ignore', 'inherit'],
    });
    program.stdin.end(payload);
    const [code] = await once(program, 'exit');
    if (code !== 0) throw new Error(`mosquitto_pub ended with ${code}`);
  }
};

/** Publishes what it is told as JSON, one after the other, each when the one before is done. */
const PAHO = `
import json, sys
import paho.mqtt.client as mqtt
port, messages = json.loads(sys.argv[1])
client = mqtt.Client(client_id="shed-3", clean_session=False)
client.connect("127.0.0.1", port)
client.loop_start()
for m in messages:
    client.publish(m["topic"], bytes.fromhex(m["hex"]), qos=m["qos"], retain=m["retain"]).wait_for_publish()
client.disconnect()
client.loop_stop()
`;

export const publishWithPaho: Publish = async (port, messages) => {
  const told = messages.map(({ topic, payload, qos = 1, retain = false }) => ({
    topic,
    hex: Buffer.from(payload).toString('hex'),
    qos,
    retain,
  }));
  await run(PYTHON, ['-c', PAHO, JSON.stringify([port, told])]);
};

/** Why mosquitto_pub cannot be used here, or undefined. It prints its help and ends with 1; all else is missing. */
export const mosquittoPubMissing = (): string | undefined => {
  try {
    execFileSync(MOSQUITTO_PUB, ['--help'], { stdio: 'pipe' });
    return undefined;
  } catch (error) {
    const isThere =
      error instanceof Error &&
      'stdout' in error &&
      String(error.stdout).includes('mosquitto_pub is a simple mqtt client');
    return isThere ? undefined : `no ${MOSQUITTO_PUB}`;
  }
};
