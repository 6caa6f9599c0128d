import { once } from 'node:events';
import { createServer } from 'node:net';
import { Aedes } from 'aedes';
import { describe, expect, onTestFinished, test } from 'vitest';
import { decode } from '../../../gateway/intake/decode.js';
import { openEmbeddedBroker } from '../../../gateway/intake/embedded.js';
import { openExternalBroker } from '../../../gateway/intake/external.js';
import { isRepeat } from '../../../gateway/intake/redelivery.js';
import { board, brokerContract, NOW_MS } from '../../contracts/broker.js';
import { collectDeliveries, textOf } from '../../support/deliveries.js';
import { isDown, isUp, opened } from '../../support/external-link.js';
import { freePort, type Mosquitto, mosquittoMissing, startMosquitto } from '../../support/mosquitto.js';
import { CONNACK, openTap, PUBACK } from '../../support/mqtt-tap.js';
import { packetMemory } from '../../support/packet-memory.js';
import { peer } from '../../support/peer.js';

const started = async (settings?: readonly string[]): Promise<Mosquitto> => {
  const mosquitto = await startMosquitto(settings);
  onTestFinished(() => mosquitto.close());
  return mosquitto;
};

peer('mosquitto', mosquittoMissing)('a broker of the hatchery', () => {
  brokerContract('mosquitto', async ({ take, see = () => undefined }) => {
    const mosquitto = await started();
    const tap = await openTap(mosquitto.port, see);
    onTestFinished(() => tap.close());
    const { broker, change } = opened({ url: `mqtt://127.0.0.1:${tap.port}`, take });
    await change(isUp);
    return { broker, url: mosquitto.url, gatewayIs: 'client' };
  });

  test('keeps what boards send while the gateway is stopped', async () => {
    const { url } = await started();
    const before = opened({ url });
    await before.change(isUp);
    await before.broker.close();
    const client = await board(url);
    await client.publishAsync('boards/shed-3/water', '23.4', { qos: 1 });
    const taken = collectDeliveries();
    opened({ url, take: taken.take });
    expect((await taken.until(({ length }) => length > 0)).map(textOf)).toEqual(['23.4']);
  });

  test('that is restarted is found again, with what it kept', async () => {
    const mosquitto = await started();
    const taken = collectDeliveries();
    const { changes, change } = opened({ url: mosquitto.url, take: taken.take });
    await change(isUp);
    await mosquitto.stop();
    await change(isDown);
    await mosquitto.start();
    await change((each) => isUp(each) && each.reason === undefined);
    await (await board(mosquitto.url)).publishAsync('boards/shed-3/water', '23.4', { qos: 1 });
    await taken.until(({ length }) => length > 0);
    expect(changes[0]).toEqual({ broker: 'up', atMs: NOW_MS, reason: 'session-new' });
    expect(changes.at(-1)).toEqual({ broker: 'up', atMs: NOW_MS });
  });

  test('sends again, with DUP and the same packet id, what was committed while its acknowledgement was lost', async () => {
    const { url } = await started();
    const memory = packetMemory();
    let first = true;
    const taken = collectDeliveries((group) => {
      if (!first) return;
      first = false;
      memory.remember(group);
      throw new Error('killed after the commit');
    });
    const { change } = opened({ url, take: taken.take });
    await change(isUp);
    await (await board(url)).publishAsync('boards/shed-3/water', '23.4', { qos: 1 });
    const [again] = await taken.until(({ length }) => length > 0);
    expect(again).toMatchObject({ redelivered: true });
    expect(again && isRepeat(again, memory.known)).toBe(true);
    expect(await change(isDown)).toMatchObject({ reason: 'commit-failed' });
  });

  test('whose connection breaks five times within 20,000 messages: each is kept, and kept once', async () => {
    const mosquitto = await started();
    let cuts = 0;
    let acknowledged = 0;
    const tap = await openTap(mosquitto.port, ({ type }) => {
      if (type === CONNACK) acknowledged = 0;
      if (type !== PUBACK) return;
      acknowledged += 1;
      if (acknowledged !== 2_000 || cuts === 5) return;
      cuts += 1;
      tap.cut();
    });
    onTestFinished(() => tap.close());
    const memory = packetMemory();
    const kept: string[] = [];
    const taken = collectDeliveries((group) => {
      for (const delivery of group) {
        if (!isRepeat(delivery, memory.known)) kept.push(textOf(delivery));
        memory.remember([delivery]);
      }
    });
    const { changes, change } = opened({ url: `mqtt://127.0.0.1:${tap.port}`, take: taken.take });
    await change(isUp);
    const client = await board(mosquitto.url);
    for (let at = 0; at < 20_000; at += 1) client.publish('boards/shed-3/water', String(at), { qos: 1 });
    await change(() => changes.filter(isDown).length === 5);
    await taken.until(() => new Set(kept).size === 20_000);
    expect(kept).toHaveLength(20_000);
  });

  test('tells the state of boards at once, and no reading of unknown age', async () => {
    const { url } = await started();
    const client = await board(url);
    await client.publishAsync('boards/shed-3/status', 'online', { qos: 1, retain: true });
    await client.publishAsync('tanks/larva-1/temperature', '23.4', { qos: 1, retain: true });
    const taken = collectDeliveries();
    await opened({ url, take: taken.take }).change(isUp);
    // The marker is sent last: whatever was kept has come before it.
    await client.publishAsync('boards/shed-3/water', '1', { qos: 1 });
    const all = await taken.until((each) => each.some(({ topic }) => topic === 'boards/shed-3/water'));
    expect(all.map(({ topic, retained }) => [topic, retained])).toEqual([
      ['boards/shed-3/status', true],
      ['boards/shed-3/water', false],
    ]);
  });

  test('tells our last will when the gateway is gone, stopped or killed', async () => {
    const { url } = await started();
    const will = { topic: 'nightwater/saltmarsh/heartbeat', payload: 'gone' };
    const { broker, change } = opened({ url, will });
    await change(isUp);
    const lamp = await board(url);
    const heard = new Promise((resolve) => {
      lamp.on('message', (_topic, payload) => resolve(payload.toString()));
    });
    await lamp.subscribeAsync('nightwater/+/heartbeat', { qos: 1 });
    await broker.close();
    expect(await heard).toBe('gone');
  });

  test('that refuses our name is said to, and tried again', async () => {
    const { url } = await started(['allow_anonymous false']);
    const { change } = opened({ url });
    expect(await change(isDown)).toEqual({ broker: 'down', atMs: NOW_MS, reason: 'not-authorized' });
  });

  test('takes nothing that the gateway says while it is away', async () => {
    const mosquitto = await started();
    const { broker, change } = opened({ url: mosquitto.url });
    await change(isUp);
    await mosquitto.stop();
    await change(isDown);
    await expect(broker.publish('nightwater/saltmarsh/heartbeat', '1', { retain: false, qos: 0 })).rejects.toThrow(
      'away',
    );
  });
});

describe('a broker that is not there', () => {
  test('is said to be, and found when it comes', async () => {
    const port = await freePort();
    const { change } = opened({ url: `mqtt://127.0.0.1:${port}` });
    expect(await change(isDown)).toEqual({ broker: 'down', atMs: NOW_MS, reason: 'refused' });
    const late = await openEmbeddedBroker({
      host: '127.0.0.1',
      port,
      authenticate: () => true,
      take: () => undefined,
      now: () => NOW_MS,
    });
    if (!late.ok) throw new Error(late.fault.code);
    onTestFinished(() => late.value.close());
    expect(await change(isUp)).toMatchObject({ broker: 'up' });
  });
});

describe('a broker that speaks MQTT 3.1.1 only', () => {
  test('is spoken to in 3.1.1; what it kept is marked as kept', async () => {
    const older = await openEmbeddedBroker({
      host: '127.0.0.1',
      port: 0,
      authenticate: () => true,
      take: () => undefined,
      now: () => NOW_MS,
    });
    if (!older.ok) throw new Error(older.fault.code);
    onTestFinished(() => older.value.close());
    const client = await board(older.value.address);
    await client.publishAsync('tanks/larva-1/temperature', '23.4', { qos: 1, retain: true });
    const taken = collectDeliveries();
    await opened({ url: older.value.address, take: taken.take }).change(isUp);
    const [kept] = await taken.until(({ length }) => length > 0);
    expect(kept).toMatchObject({ topic: 'tanks/larva-1/temperature', retained: true });
    expect(kept && decode(kept)).toMatchObject({ kind: 'readings' });
  });
});

describe('a broker that does not let us read', () => {
  test('is said to refuse the subscription', async () => {
    const strict = await Aedes.createBroker({ authorizeSubscribe: (_client, _subscription, done) => done(null, null) });
    const server = createServer(strict.handle).listen(0, '127.0.0.1');
    onTestFinished(async () => {
      await new Promise<void>((resolve) => strict.close(resolve));
      server.close();
    });
    await once(server, 'listening');
    const address = server.address();
    const port = typeof address === 'object' ? address?.port : undefined;
    const { change } = opened({ url: `mqtt://127.0.0.1:${port}` });
    expect(await change(({ reason }) => reason === 'subscription-refused')).toMatchObject({ broker: 'down' });
  });
});

test('an address that is none is refused before anything is opened', () => {
  expect(
    openExternalBroker({
      url: 'http://broker.example',
      clientId: 'x',
      take: () => undefined,
      onLink: () => undefined,
      now: () => NOW_MS,
    }),
  ).toEqual({ ok: false, fault: { code: 'broker-url', part: 'protocol' } });
});
