import { describe, expect, onTestFinished, test } from 'vitest';
import { decode } from '../../gateway/intake/decode.js';
import type { Delivery } from '../../gateway/intake/delivery.js';
import { openEmbeddedBroker } from '../../gateway/intake/embedded.js';
import { openExternalBroker } from '../../gateway/intake/external.js';
import { isRepeat } from '../../gateway/intake/redelivery.js';
import { type Collected, collectDeliveries } from '../support/deliveries.js';
import { mosquittoMissing, startMosquitto } from '../support/mosquitto.js';
import { packetMemory } from '../support/packet-memory.js';
import { pahoMissing } from '../support/paho.js';
import { peer } from '../support/peer.js';
import {
  type Message,
  mosquittoPubMissing,
  type Publish,
  publishWithMosquitto,
  publishWithPaho,
} from '../support/publishers.js';

const ARRIVAL_MS = 1_900_000_000_000;
/** A board's clock half a minute behind the arrival, in whole seconds. */
const STAMP_S = ARRIVAL_MS / 1000 - 30;
type OpenedAt = { readonly port: number };
type Open = (taken: Collected) => Promise<OpenedAt>;

const embedded: Open = async ({ take }) => {
  const broker = await openEmbeddedBroker({
    host: '127.0.0.1',
    port: 0,
    authenticate: () => false,
    take,
    now: () => ARRIVAL_MS,
  });
  if (!broker.ok) throw new Error(broker.fault.code);
  onTestFinished(() => broker.value.close());
  return { port: Number(new URL(broker.value.address).port) };
};

const external: Open = async ({ take }) => {
  const mosquitto = await startMosquitto();
  onTestFinished(() => mosquitto.close());
  await new Promise<void>((resolve) => {
    const broker = openExternalBroker({
      url: mosquitto.url,
      clientId: 'nightwater-saltmarsh',
      take,
      now: () => ARRIVAL_MS,
      onLink: (change) => {
        if (change.broker === 'up') resolve();
      },
    });
    if (!broker.ok) throw new Error(broker.fault.code);
    onTestFinished(() => broker.value.close());
  });
  return { port: mosquitto.port };
};

/** [{-2: "larva-1/", -3: STAMP_S, 0: "temp", 1: "Cel", 2: 23.5}, {0: "do", 1: "kg/m3", 2: 4([-4, 78])}] in CBOR. */
const CBOR_PACK = Buffer.concat([
  Buffer.from('82a521686c617276612d312f221a', 'hex'),
  Buffer.from(STAMP_S.toString(16), 'hex'),
  Buffer.from('006474656d7001634365 6c02f94de0a30062646f01656b672f6d3302c48223184e'.replaceAll(' ', ''), 'hex'),
]);

/** One of each that boards send; the last one tells that all have come. */
const MESSAGES: readonly Message[] = [
  { topic: 'tanks/larva-1/temperature', payload: '23.4\n' },
  { topic: 'tanks/larva-1/temperature', payload: '23.4\n', qos: 0 },
  { topic: 'boards/shed-3/water', payload: `{"temp":23.4,"do":"7.9","mains":true,"ts":${STAMP_S}}` },
  { topic: 'boards/shed-3/water', payload: `{"temp":23.3,"ts":${STAMP_S - 60}}` },
  { topic: 'boards/shed-3/water', payload: `{"temp":23.4,"ts":${STAMP_S}}` },
  {
    topic: 'boards/shed-3/pack',
    payload: '[{"bn":"larva-1/","bu":"Cel","n":"temp","v":20.5},{"n":"temp","v":20.4,"t":-30}]',
  },
  { topic: 'boards/shed-3/pack', payload: CBOR_PACK },
  { topic: 'boards/shed-3/kept', payload: '7.5', retain: true },
  { topic: 'boards/shed-3/kept', payload: '', retain: true },
  { topic: 'tanks/larva-1/ph', payload: '8,1' },
  { topic: 'boards/shed-3/status', payload: 'online', retain: true },
];

const stamped = (deviceMs: number) => ({ kind: 'stamped', deviceMs, resolutionMs: 1000 });
const at = STAMP_S * 1000;

/** What was understood of a delivery: key, value and time of each reading, or what it was instead. */
const understood = (delivery: Delivery): unknown => {
  const decoded = decode(delivery);
  if (decoded.kind !== 'readings') return decoded.kind === 'malformed' ? decoded.code : decoded.kind;
  return decoded.items.map(({ key, raw, time }) => [key, raw, ...(time === undefined ? [] : [time])]);
};

const UNDERSTOOD: readonly unknown[] = [
  [['tanks/larva-1/temperature', 23.4]],
  [['tanks/larva-1/temperature', 23.4]],
  [
    ['boards/shed-3/water#/temp', 23.4, stamped(at)],
    ['boards/shed-3/water#/do', 7.9, stamped(at)],
    ['boards/shed-3/water#/mains', 1, stamped(at)],
  ],
  [['boards/shed-3/water#/temp', 23.3, stamped(at - 60_000)]],
  [['boards/shed-3/water#/temp', 23.4, stamped(at)]],
  [
    ['boards/shed-3/pack#larva-1/temp@Cel', 20.4, { ...stamped(ARRIVAL_MS - 30_000), kind: 'aged' }],
    ['boards/shed-3/pack#larva-1/temp@Cel', 20.5],
  ],
  [
    ['boards/shed-3/pack#larva-1/temp@Cel', 23.5, stamped(at)],
    ['boards/shed-3/pack#larva-1/do@kg/m3', 0.0078, stamped(at)],
  ],
  [['boards/shed-3/kept', 7.5]],
  'empty',
  'decimal-comma',
  'status',
];

/** Messages of QoS 0 and 1 have no common order (MQTT 3.1.1 section 4.6): they are compared sorted. */
const sorted = (all: readonly unknown[]): readonly string[] => all.map((each) => JSON.stringify(each)).sort();

const isStatus = ({ topic }: Delivery): boolean => topic === 'boards/shed-3/status';

const publisherSuite = (publish: Publish, open: Open): void => {
  test('every form arrives and is understood, out of order and twice as it was sent', async () => {
    const taken = collectDeliveries();
    const { port } = await open(taken);
    await publish(port, MESSAGES);
    const all = await taken.until(
      (each) => each.some(isStatus) && each.filter((one) => !isStatus(one)).length === MESSAGES.length - 1,
    );
    // Two subscriptions cover the status of a board: mosquitto may bring it once for each.
    const readings = all.filter((each) => !isStatus(each));
    expect(sorted([...readings.map(understood), 'status'])).toEqual(sorted(UNDERSTOOD));
    expect(all.filter(isStatus).map((each) => decode(each))).toContainEqual({
      kind: 'status',
      board: 'shed-3',
      online: true,
    });
    expect(all.every(({ retained, redelivered }) => !retained && !redelivered)).toBe(true);
  });
};

const inEmbedded = (body: () => void): void => void describe('into the embedded broker', body);

for (const [name, probe, publish] of [
  ['mosquitto_pub', mosquittoPubMissing, publishWithMosquitto],
  ['paho', pahoMissing, publishWithPaho],
] as const) {
  peer(name, probe)(`what ${name} publishes`, () => {
    inEmbedded(() => publisherSuite(publish, embedded));
    peer('mosquitto', mosquittoMissing)('through mosquitto', () => publisherSuite(publish, external));
  });
}

peer('paho', pahoMissing)('paho that gets no acknowledgement', () => {
  test('sends again with DUP, which is known as a repeat', async () => {
    const memory = packetMemory();
    let first = true;
    const taken = collectDeliveries((group) => {
      if (!first) return;
      first = false;
      memory.remember(group);
      throw new Error('the cable was pulled after the commit');
    });
    const { port } = await embedded(taken);
    await publishWithPaho(port, [{ topic: 'tanks/larva-1/temperature', payload: '23.4' }]);
    const [again] = taken.all;
    expect(again).toMatchObject({ redelivered: true });
    expect(again && isRepeat(again, memory.known)).toBe(true);
  });
});
