import { connectAsync, type IClientOptions, type MqttClient } from 'mqtt';
import { describe, expect, onTestFinished, test } from 'vitest';
import { decode } from '../../gateway/intake/decode.js';
import type { Broker, TakeDeliveries } from '../../gateway/intake/delivery.js';
import { collectDeliveries, textOf } from '../support/deliveries.js';
import { PUBACK, PUBLISH, packetIdOf, type TappedPacket } from '../support/mqtt-tap.js';

export type BrokerSetup = {
  readonly take: TakeDeliveries;
  /** Shows the packets on the way that readings come to the gateway. */
  readonly see?: (packet: TappedPacket) => void;
};

export type OpenedBroker = {
  readonly broker: Broker;
  /** Where boards, and anybody else, connect. */
  readonly url: string;
  /** Which side of the tapped way the gateway is. */
  readonly gatewayIs: TappedPacket['from'];
};

/** Opens a broker that is ready to take, and closes it at the end of the test. */
export type OpenBroker = (setup: BrokerSetup) => Promise<OpenedBroker>;

const WATER = 'boards/shed-3/water';

/** A board, or a lamp, as a client of its own; closed at the end of the test. */
export const board = async (url: string, options: IClientOptions = {}): Promise<MqttClient> => {
  const client = await connectAsync(url, { reconnectPeriod: 50, ...options });
  // A board whose connection breaks goes on by itself; the error is part of the test.
  client.on('error', () => undefined);
  onTestFinished(async () => client.endAsync(true));
  return client;
};

/** What every broker owes the gateway, embedded or of the hatchery. */
export const brokerContract = (name: string, open: OpenBroker): void => {
  describe(`${name} brings what boards send`, () => {
    test.each([0, 1] as const)('with topic, payload and time of arrival at QoS %i', async (qos) => {
      const taken = collectDeliveries();
      const { url } = await open(taken);
      await (await board(url)).publishAsync(WATER, '23.4', { qos });
      const [delivery] = await taken.until((all) => all.length > 0);
      expect(delivery).toMatchObject({ topic: WATER, qos, retained: false, redelivered: false, arrivalMs: NOW_MS });
      expect(delivery && textOf(delivery)).toBe('23.4');
    });

    test('in the order in which one board sent it', async () => {
      const taken = collectDeliveries();
      const { url } = await open(taken);
      const client = await board(url);
      const sent = Array.from({ length: 1000 }, (_, at) => String(at));
      await Promise.all(sent.map((payload) => client.publishAsync(WATER, payload, { qos: 1 })));
      expect((await taken.until((all) => all.length === 1000)).map(textOf)).toEqual(sent);
    });

    test('a message that the board asks the broker to keep is fresh when it comes', async () => {
      const taken = collectDeliveries();
      const { url } = await open(taken);
      await (await board(url)).publishAsync(WATER, '23.4', { qos: 1, retain: true });
      expect(await taken.until((all) => all.length > 0)).toMatchObject([{ retained: false }]);
    });

    test('an empty message, which clears what was kept, is no reading', async () => {
      const taken = collectDeliveries();
      const { url } = await open(taken);
      await (await board(url)).publishAsync(WATER, '', { qos: 1, retain: true });
      const [delivery] = await taken.until((all) => all.length > 0);
      expect(delivery && decode(delivery)).toEqual({ kind: 'empty' });
    });

    test('the last will of a board whose connection breaks', async () => {
      const taken = collectDeliveries();
      const { url } = await open(taken);
      const will = { topic: 'boards/shed-3/status', payload: Buffer.from('offline'), qos: 1, retain: true } as const;
      const client = await board(url, { will });
      client.options.reconnectPeriod = 0;
      client.stream.destroy();
      const [delivery] = await taken.until((all) => all.length > 0);
      expect(delivery && decode(delivery)).toEqual({ kind: 'status', board: 'shed-3', online: false });
    });

    test('ten megabytes are acknowledged and counted as too large, and the next reading comes', async () => {
      const taken = collectDeliveries();
      const { url } = await open(taken);
      const client = await board(url);
      await client.publishAsync(WATER, Buffer.alloc(10 * 1024 * 1024, 'x'), { qos: 1 });
      await client.publishAsync(WATER, '23.4', { qos: 1 });
      const [large, next] = await taken.until((all) => all.length === 2);
      expect(large && decode(large)).toMatchObject({
        code: 'payload-too-large',
        parameters: { bytes: 10 * 1024 * 1024, limit: 65_536 },
      });
      expect(large?.topic).toBe(WATER);
      expect(next && textOf(next)).toBe('23.4');
    });
  });

  describe(`${name} acknowledges what is committed, and nothing else`, () => {
    test('of 20,000 messages none is acknowledged before the group that holds it is taken', async () => {
      const committed = new Set<string>();
      const sentUnder = new Map<number, string>();
      const early: string[] = [];
      let acknowledged = 0;
      let finished = (): void => undefined;
      const allAcknowledged = new Promise<void>((resolve) => {
        finished = resolve;
      });
      const taken = collectDeliveries((group) => {
        for (const delivery of group) committed.add(textOf(delivery));
      });
      const opened = await open({
        take: taken.take,
        see: (packet) => {
          if (packet.type === PUBLISH && packet.from !== opened.gatewayIs) {
            sentUnder.set(packetIdOf(packet), packet.body.subarray(-6).toString());
          } else if (packet.type === PUBACK && packet.from === opened.gatewayIs) {
            const payload = sentUnder.get(packetIdOf(packet)) ?? 'unknown';
            if (!committed.has(payload)) early.push(payload);
            acknowledged += 1;
            if (acknowledged === 20_000) finished();
          }
        },
      });
      const client = await board(opened.url);
      for (let at = 0; at < 20_000; at += 1) client.publish(WATER, String(100_000 + at), { qos: 1 });
      await allAcknowledged;
      expect(early).toEqual([]);
      expect(committed.size).toBe(20_000);
      expect(Math.max(...taken.groups.map((group) => group.length))).toBeLessThanOrEqual(500);
    });

    test('a group that cannot be committed is not acknowledged and comes again', async () => {
      const seen: string[] = [];
      let failures = 0;
      const taken = collectDeliveries(() => {
        failures += 1;
        if (failures === 1) throw new Error('disk full');
        seen.push('taken');
      });
      const opened = await open({
        take: taken.take,
        see: (packet) => {
          if (packet.type === PUBACK && packet.from === opened.gatewayIs) seen.push('acknowledged');
        },
      });
      const client = await board(opened.url, { clientId: 'shed-3', clean: false });
      await client.publishAsync(WATER, '23.4', { qos: 1 });
      const [delivery] = await taken.until((all) => all.length > 0);
      expect(delivery && textOf(delivery)).toBe('23.4');
      expect(seen[0]).toBe('taken');
      expect(failures).toBe(2);
    });
  });

  describe(`${name} carries what the gateway says`, () => {
    test('a kept message reaches a lamp that comes later', async () => {
      const { broker, url } = await open(collectDeliveries());
      await broker.publish('nightwater/saltmarsh/alarms/a1', '{"state":"unack"}', { retain: true, qos: 1 });
      const lamp = await board(url);
      const message = new Promise((resolve) => {
        lamp.on('message', (topic, payload, { retain }) => resolve([topic, payload.toString(), retain]));
      });
      await lamp.subscribeAsync('nightwater/+/alarms/#', { qos: 1 });
      expect(await message).toEqual(['nightwater/saltmarsh/alarms/a1', '{"state":"unack"}', true]);
    });
  });
};

/** The hand of the clock in these tests. */
export const NOW_MS = 1_900_000_000_000;
