import { once } from 'node:events';
import { connect, type Socket } from 'node:net';
import { connectAsync } from 'mqtt';
import { describe, expect, onTestFinished, test } from 'vitest';
import { decode } from '../../../gateway/intake/decode.js';
import type { Broker } from '../../../gateway/intake/delivery.js';
import { type EmbeddedOptions, openEmbeddedBroker } from '../../../gateway/intake/embedded.js';
import { isRepeat } from '../../../gateway/intake/redelivery.js';
import { board, brokerContract, NOW_MS } from '../../contracts/broker.js';
import { collectDeliveries, textOf } from '../../support/deliveries.js';
import { openTap } from '../../support/mqtt-tap.js';
import { packetMemory } from '../../support/packet-memory.js';

const opened = async (options: Partial<EmbeddedOptions>): Promise<Broker> => {
  const broker = await openEmbeddedBroker({
    host: '127.0.0.1',
    port: 0,
    authenticate: (name, password) => password === `${name}-secret`,
    take: () => undefined,
    now: () => NOW_MS,
    ...options,
  });
  if (!broker.ok) throw new Error(broker.fault.code);
  onTestFinished(() => broker.value.close());
  return broker.value;
};

/** [MQTT 3.1.1 section 3.1] a board "shed-3" that keeps its session. */
const CONNECT_KEEPING_SESSION = Buffer.concat([
  Buffer.from('101200044d51545404 00 000f 0006'.replaceAll(' ', ''), 'hex'),
  Buffer.from('shed-3'),
]);

/** [MQTT 3.1.1 section 3.3] 8.1 to tanks/a/ph at QoS 1 under packet id 7. */
const publishBytes = ({ dup }: { readonly dup: boolean }): Buffer =>
  Buffer.concat([
    Buffer.from([dup ? 0x3a : 0x32, 17, 0, 10]),
    Buffer.from('tanks/a/ph'),
    Buffer.from([0, 7]),
    Buffer.from('8.1'),
  ]);

const rawBoard = (port: number, packets: readonly Buffer[]): Socket => {
  const socket = connect(port, '127.0.0.1', () => socket.write(Buffer.concat(packets)));
  onTestFinished(() => void socket.destroy());
  socket.on('error', () => undefined);
  return socket.resume();
};

/** However it ends: by a goodbye or by a reset. */
const closing = (socket: Socket): Promise<void> =>
  new Promise((resolve) => {
    socket.once('close', () => resolve());
  });

brokerContract('the embedded broker', async ({ take, see = () => undefined }) => {
  const broker = await opened({ take });
  const tap = await openTap(Number(new URL(broker.address).port), see);
  onTestFinished(() => tap.close());
  return { broker, url: `mqtt://127.0.0.1:${tap.port}`, gatewayIs: 'server' };
});

describe('the embedded broker on a port that is taken', () => {
  test('says which port, and does not stay open', async () => {
    const first = await opened({});
    const port = Number(new URL(first.address).port);
    const second = await openEmbeddedBroker({
      host: '127.0.0.1',
      port,
      authenticate: () => true,
      take: () => undefined,
      now: () => NOW_MS,
    });
    expect(second).toEqual({ ok: false, fault: { code: 'port-taken', host: '127.0.0.1', port } });
  });
});

describe('a board with a name', () => {
  const named = { username: 'shed-3', password: 'shed-3-secret' };

  test('is refused with a wrong password', async () => {
    const { address } = await opened({});
    await expect(connectAsync(address, { ...named, password: 'guess', reconnectPeriod: 0 })).rejects.toMatchObject({
      // MQTT 3.1.1 table 3.1: not authorized
      code: 5,
    });
  });

  test('is online when it comes and offline when its last connection goes', async () => {
    const taken = collectDeliveries();
    const { address } = await opened({ take: taken.take });
    const first = await board(address, named);
    const second = await board(address, named);
    await first.endAsync();
    await second.publishAsync('boards/shed-3/water', '23.4', { qos: 1 });
    await second.endAsync();
    const all = await taken.until(({ length }) => length >= 3);
    expect(all.map((delivery) => [delivery.topic, textOf(delivery), delivery.board])).toEqual([
      ['boards/shed-3/status', 'online', 'shed-3'],
      ['boards/shed-3/water', '23.4', 'shed-3'],
      ['boards/shed-3/status', 'offline', 'shed-3'],
    ]);
  });

  test('on a tank’s topic is still known as the sender', async () => {
    const taken = collectDeliveries();
    const { address } = await opened({ take: taken.take });
    await (await board(address, named)).publishAsync('tanks/larva-1/temperature', '23.4', { qos: 1 });
    const all = await taken.until(({ length }) => length === 2);
    expect(all[1] && decode(all[1])).toMatchObject({ items: [{ board: 'shed-3' }] });
  });

  test.each([
    ['boards/shed-4/water', 'topic-not-own'],
    ['nightwater/saltmarsh/heartbeat', 'topic-not-watched'],
  ])('gets no reading through at %s: it is acknowledged, counted and handed to nobody', async (topic, code) => {
    const taken = collectDeliveries();
    const { address } = await opened({ take: taken.take });
    const listener = await board(address);
    const heard = new Promise((resolve) => {
      listener.once('message', resolve);
    });
    await listener.subscribeAsync('#', { qos: 1 });
    const client = await board(address, named);
    await client.publishAsync(topic, '1', { qos: 1, retain: true });
    await client.publishAsync('boards/shed-3/water', '2', { qos: 1 });
    const all = await taken.until(({ length }) => length === 3);
    expect(all[1]).toMatchObject({ topic, board: 'shed-3', refusal: { code } });
    expect(all[1] && decode(all[1])).toMatchObject({ kind: 'malformed', code });
    // What was refused was sent first, so the listener would have heard it first.
    expect(await heard).toBe('boards/shed-3/water');
  });
});

describe('a check of passwords that breaks', () => {
  test('lets nobody in', async () => {
    const { address } = await opened({
      authenticate: () => {
        throw new Error('no list of boards');
      },
    });
    await expect(
      connectAsync(address, { username: 'shed-3', password: 'x', reconnectPeriod: 0 }),
    ).rejects.toMatchObject({ code: 5 });
  });
});

describe('a message that was committed while its acknowledgement was lost', () => {
  test('is known as a repeat when the board sends it again with DUP', async () => {
    const memory = packetMemory();
    let first = true;
    const taken = collectDeliveries((group) => {
      if (!first) return;
      first = false;
      memory.remember(group);
      throw new Error('the cable was pulled after the commit');
    });
    const port = Number(new URL((await opened({ take: taken.take })).address).port);
    await closing(rawBoard(port, [CONNECT_KEEPING_SESSION, publishBytes({ dup: false })]));
    rawBoard(port, [CONNECT_KEEPING_SESSION, publishBytes({ dup: true })]);
    const [again] = await taken.until(({ length }) => length > 0);
    expect(again).toMatchObject({ topic: 'tanks/a/ph', redelivered: true });
    expect(again && isRepeat(again, memory.known)).toBe(true);
  });

  test('two boards may use the same packet id', async () => {
    const taken = collectDeliveries();
    const { address } = await opened({ take: taken.take });
    for (const clientId of ['shed-3', 'shed-4']) {
      const client = await board(address, { clientId, clean: false });
      await client.publishAsync('tanks/larva-1/temperature', '23.4', { qos: 1 });
    }
    const all = await taken.until(({ length }) => length === 2);
    const ids = all.map(({ packetId }) => packetId);
    expect(new Set(ids).size).toBe(2);
    expect(ids.every(Number.isSafeInteger)).toBe(true);
  });

  test('a board that keeps no session has no packet id to be known by', async () => {
    const taken = collectDeliveries();
    const { address } = await opened({ take: taken.take });
    await (await board(address)).publishAsync('tanks/larva-1/temperature', '23.4', { qos: 1 });
    expect((await taken.until(({ length }) => length === 1))[0]).not.toHaveProperty('packetId');
  });
});

describe('a message too large to be held in memory', () => {
  test('is cut while it arrives: its first 200 bytes and its size are kept', async () => {
    const taken = collectDeliveries();
    const { address } = await opened({ take: taken.take });
    await (await board(address)).publishAsync('boards/shed-3/water', Buffer.alloc(300_000, 'x'), { qos: 1 });
    const [large] = await taken.until(({ length }) => length > 0);
    expect(large).toMatchObject({
      topic: 'boards/shed-3/water',
      payload: Buffer.alloc(200, 'x'),
      refusal: { code: 'payload-too-large', parameters: { bytes: 300_000, limit: 65_536 } },
    });
  });
});

describe('the embedded broker that closes', () => {
  test('does not wait for a connection that never says who it is', async () => {
    const broker = await openEmbeddedBroker({
      host: '127.0.0.1',
      port: 0,
      authenticate: () => true,
      take: () => undefined,
      now: () => NOW_MS,
    });
    if (!broker.ok) throw new Error(broker.fault.code);
    const silent = rawBoard(Number(new URL(broker.value.address).port), [Buffer.from([0x10])]);
    await once(silent, 'connect');
    const gone = closing(silent);
    await broker.value.close();
    await gone;
  });

  test('takes what waits, and says nothing of boards that go because it goes', async () => {
    const taken = collectDeliveries();
    const broker = await openEmbeddedBroker({
      host: '127.0.0.1',
      port: 0,
      authenticate: () => true,
      take: taken.take,
      now: () => NOW_MS,
    });
    if (!broker.ok) throw new Error(broker.fault.code);
    const will = { topic: 'boards/shed-3/status', payload: Buffer.from('offline'), qos: 1, retain: true } as const;
    const client = await board(broker.value.address, { username: 'shed-3', password: 'x', will });
    client.options.reconnectPeriod = 0;
    await client.publishAsync('boards/shed-3/water', '23.4', { qos: 1 });
    await broker.value.close();
    expect(taken.all.map(textOf)).toEqual(['online', '23.4']);
  });
});
