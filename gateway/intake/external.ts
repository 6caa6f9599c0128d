import { connect, type IClientOptions, type IConnackPacket, type IPublishPacket, type MqttClient } from 'mqtt';
import { ok, type Result } from '../../rules/result.js';
import type { BrokerFault } from '../../rules/wire/broker.js';
import { DEFAULT_FILTERS } from '../../rules/wire/topic.js';
import { type BrokerAddress, parseBrokerUrl, shownAddress } from './broker-url.js';
import type { Broker, Delivery, LinkChange, TakeDeliveries } from './delivery.js';
import { groupDeliveries } from './group.js';
import { linkReasonOf, watchLink } from './link.js';
import { filterCovers } from './topic-filter.js';

export type ExternalOptions = {
  /** `mqtt://` or `mqtts://`, with name and password where the broker wants them. */
  readonly url: string;
  /** Always the same for this gateway: the broker keeps unacknowledged messages under it. */
  readonly clientId: string;
  readonly take: TakeDeliveries;
  readonly onLink: (change: LinkChange) => void;
  readonly now: () => number;
  readonly filters?: readonly string[];
  /** What the broker tells, retained, when this gateway is gone. */
  readonly will?: { readonly topic: string; readonly payload: string };
  readonly reconnect?: { readonly firstMs: number; readonly longestMs: number };
};

/** So long the broker keeps our session while we are away: readings older than that would not be accepted anyway. */
const SESSION_S = 7 * 86_400;
const RECEIVE_MAXIMUM = 500;
const STATUS_FILTER = 'boards/+/status';
/** "Unsupported protocol version" in MQTT 3.1.1 and in 5.0: then 3.1.1 is spoken. */
const VERSION_REFUSED: readonly unknown[] = [1, 132];

/**
 * A client of the hatchery's own broker. Opening does not wait for it: `onLink` tells when it is there, and connecting
 * is tried for ever. What arrives is acknowledged only after `take` has returned.
 */
export const openExternalBroker = (options: ExternalOptions): Result<Broker, BrokerFault> => {
  const address = parseBrokerUrl(options.url);
  if (!address.ok) return address;
  const client = connect(clientOptions(address.value, options));
  const link = watchLink(options.now, options.onLink);
  keepTrying(client, options);
  const landing = landBeforeAcknowledging(client, options, () => link.down('commit-failed'));
  client.on('connect', ({ sessionPresent }) => {
    // A session that was kept has its subscriptions: what waited there is coming already.
    if (sessionPresent) link.up();
    subscribe(client, options.filters ?? DEFAULT_FILTERS, (answer) => {
      if (answer === 'accepted') link.up('session-new');
      if (answer !== 'refused') return;
      link.down('subscription-refused');
      client.stream.destroy();
    });
  });
  client.on('error', (error) => link.down(linkReasonOf(error)));
  client.on('close', () => {
    if (!client.disconnecting) link.down('lost');
  });
  return ok({
    address: shownAddress(address.value),
    publish: async (topic, payload, { retain, qos }) => {
      // Heartbeats and lamps show the present: what was true an hour ago must not queue up for later.
      if (!client.connected) throw new Error('the broker is away');
      await client.publishAsync(topic, payload, { retain, qos });
    },
    close: async () => {
      landing.close();
      // Without a goodbye: the broker tells our last will at once. An acknowledgement that is lost in this way only
      // brings a repeat, which is known as one.
      await client.endAsync(true);
    },
  });
};

const clientOptions = (address: BrokerAddress, { clientId, reconnect, will }: ExternalOptions): IClientOptions => ({
  ...address,
  clientId,
  clean: false,
  protocolVersion: 5,
  // Filters are sent at every connect: they may have changed since the broker kept the session.
  resubscribe: false,
  reconnectPeriod: reconnect?.firstMs ?? 1000,
  // A refused password may be put right at the broker: then nobody has to restart the gateway.
  reconnectOnConnackError: true,
  keepalive: 15,
  properties: { sessionExpiryInterval: SESSION_S, receiveMaximum: RECEIVE_MAXIMUM },
  ...(will === undefined ? {} : { will: { ...will, payload: Buffer.from(will.payload), qos: 1, retain: true } }),
});

/** Waits twice as long before each further try, and begins anew once a connection was accepted. */
const keepTrying = (client: MqttClient, { reconnect }: ExternalOptions): void => {
  const { firstMs, longestMs } = reconnect ?? { firstMs: 1000, longestMs: 30_000 };
  let waitMs = firstMs;
  const wait = (ms: number): void => {
    waitMs = Math.min(ms, longestMs);
    client.options.reconnectPeriod = waitMs;
  };
  client.on('reconnect', () => wait(waitMs * 2));
  client.on('connect', () => wait(firstMs));
  client.on('error', (error: Error & { readonly code?: unknown }) => {
    if (VERSION_REFUSED.includes(error.code)) client.options.protocolVersion = 4;
  });
};

/**
 * The stream is corked at the first message of a group, so that the acknowledgements which the client writes at once
 * stay in memory until the group is committed. When the commit fails the stream is destroyed with them.
 */
const landBeforeAcknowledging = (
  client: MqttClient,
  { take, now }: ExternalOptions,
  failed: () => void,
): { readonly close: () => void } => {
  const corked = new Set<MqttClient['stream']>();
  let sessionPresent = false;
  let closing = false;
  const group = groupDeliveries({
    take,
    settled: (failure) => {
      if (failure !== undefined) failed();
      for (const stream of corked) failure === undefined ? stream.uncork() : stream.destroy();
      corked.clear();
    },
  });
  client.on('packetreceive', (packet) => {
    if (packet.cmd === 'connack') sessionPresent = (packet as IConnackPacket).sessionPresent;
  });
  client.handleMessage = (packet, acknowledge) => {
    // Read and not acknowledged: the broker keeps it for the next start.
    if (closing) return acknowledge(new Error('closing'));
    if (!corked.has(client.stream)) {
      client.stream.cork();
      corked.add(client.stream);
    }
    group.add(deliveryOf(packet, sessionPresent, now()));
    acknowledge();
  };
  return {
    close: () => {
      closing = true;
      group.flush();
    },
  };
};

const deliveryOf = (packet: IPublishPacket, sessionPresent: boolean, arrivalMs: number): Delivery => ({
  topic: packet.topic,
  payload: typeof packet.payload === 'string' ? Buffer.from(packet.payload) : packet.payload,
  qos: packet.qos,
  retained: packet.retain,
  redelivered: packet.dup && sessionPresent,
  arrivalMs,
  ...(packet.qos === 0 || packet.messageId === undefined ? {} : { packetId: packet.messageId }),
});

/**
 * [MQTT 5.0 section 3.8.3.1] retained readings are of unknown age and not asked for (2); the state of each board is (0).
 * A broker of 3.1.1 sends both, marked as retained.
 */
const subscribe = (
  client: MqttClient,
  filters: readonly string[],
  answered: (answer: 'accepted' | 'refused' | 'broken-off') => void,
): void => {
  const wanted = Object.fromEntries(filters.map((filter) => [filter, { qos: 1 as const, rh: 2 }]));
  if (filters.some((filter) => filterCovers(filter, 'boards/any/status'))) wanted[STATUS_FILTER] = { qos: 1, rh: 0 };
  client.subscribe(wanted, (error, granted) => {
    // An error that carries the broker's packet is its refusal; one without comes from a connection that broke.
    if (error !== null) return answered('packet' in error && error.packet !== undefined ? 'refused' : 'broken-off');
    answered((granted ?? []).every(({ qos }) => qos < 128) ? 'accepted' : 'refused');
  });
};
