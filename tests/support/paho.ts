import { execFileSync, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

const PYTHON = '/usr/bin/python3';

/** Why the paho client of the system cannot be used here, or undefined. */
export const pahoMissing = (): string | undefined => {
  try {
    execFileSync(PYTHON, ['-c', 'import paho.mqtt.client'], { stdio: 'pipe' });
    return undefined;
  } catch {
    return `no ${PYTHON} with paho`;
  }
};

/**
 * A patient board: it keeps its session, has up to 400 messages under way, connects again by itself, and sends what was
 * not acknowledged again with DUP under the same packet id, before anything new (MQTT 3.1.1, 4.4 and 4.6). One thread: two
 * would let a new message pass those that wait. It ends when all are acknowledged.
 */
const PATIENT = `
import json, sys, time
import paho.mqtt.client as mqtt
port, client_id, path = int(sys.argv[1]), sys.argv[2], sys.argv[3]
messages = json.load(open(path))
sent, acknowledged, connected = 0, 0, False
def on_connect(client, data, flags, rc):
    global connected
    connected = rc == 0
def on_disconnect(client, data, rc):
    global connected
    connected = False
def on_publish(client, data, mid):
    global acknowledged
    acknowledged += 1
client = mqtt.Client(client_id=client_id, clean_session=False)
client.on_connect, client.on_disconnect, client.on_publish = on_connect, on_disconnect, on_publish
client.max_inflight_messages_set(500)
client.connect("127.0.0.1", port)
while acknowledged < len(messages):
    if client.loop(timeout=0.05) != mqtt.MQTT_ERR_SUCCESS:
        connected = False
        time.sleep(0.05)
        try:
            client.reconnect()
        except OSError:
            pass
    while connected and sent < len(messages) and sent - acknowledged < 400:
        topic, payload = messages[sent]
        client.publish(topic, payload, qos=1)
        sent += 1
client.disconnect()
`;

export type Numbered = readonly [topic: string, payload: string];

/** Publishes them all at QoS 1, in order; resolves when each has been acknowledged. */
export const publishPatiently = async (port: number, messages: readonly Numbered[]): Promise<void> => {
  const folder = mkdtempSync(join(tmpdir(), 'nightwater-paho-'));
  const path = join(folder, 'messages.json');
  writeFileSync(path, JSON.stringify(messages));
  const board = spawn(PYTHON, ['-c', PATIENT, String(port), 'patient-board', path], {
    stdio: ['ignore', 'ignore', 'inherit'],
  });
  const [code] = await once(board, 'exit');
  rmSync(folder, { recursive: true });
  if (code !== 0) throw new Error(`the board ended with ${code}`);
};
