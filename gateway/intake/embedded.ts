import { createServer, type Server, type Socket } from 'node:net';
import type { Duplex } from 'node:stream';
import { Aedes, type AuthorizePublishHandler, type Client, type PublishPacket } from 'aedes';
import { fault, ok, type Result } from '../../rules/result.js';
import type { BrokerFault } from '../../rules/wire/broker.js';
import { malformed } from '../../rules/wire/malformed.js';
import { DEFAULT_FILTERS, statusTopic } from '../../rules/wire/topic.js';
import { publishRefusal } from './board-access.js';
import { LIMITS } from './decoded.js';
import type { Broker, Delivery, TakeDeliveries } from './delivery.js';
import { type Authenticate, type Guests, receiveGuests } from './embedded-boards.js';
import { type DeliveryGroup, groupDeliveries } from './group.js';
import { boundPackets, cutMessage } from './packet-size.js';

export type EmbeddedOptions = {
  readonly host: string;
  /** 0 lets the system choose: `Broker.address` says which. */
  readonly port: number;
  readonly authenticate: Authenticate;
  readonly take: TakeDeliveries;
  readonly now: () => number;
  /** What the gateway listens to; a board may publish only there. */
  readonly filters?: readonly string[];
};

/**
 * An MQTT 3.1.1 broker in this process. A message is taken while the broker asks whether it may be published, which is
 * before it acknowledges (its subscribers run after): the acknowledgement leaves only when the group is committed.
 */
export const openEmbeddedBroker = async (options: EmbeddedOptions): Promise<Result<Broker, BrokerFault>> => {
  const addresses = new WeakMap<object, string>();
  const guests = receiveGuests(options.authenticate, (client) => addresses.get(client.conn));
  const landing = landBeforeAcknowledging(options, guests);
  const broker = await Aedes.createBroker({
    authenticate: guests.authenticate,
    authorizePublish: landing.authorizePublish,
  });
  broker.on('clientReady', (client) => landing.tell(guests.arrived(client), 'online'));
  broker.on('clientDisconnect', (client) => landing.tell(guests.left(client), 'offline'));
  const sockets = new Set<Socket>();
  const server = createServer((socket) => {
    sockets.add(socket);
    socket.on('close', () => sockets.delete(socket));
    const connection: Duplex = boundPackets(socket.setNoDelay());
    if (socket.remoteAddress !== undefined) addresses.set(connection, socket.remoteAddress);
    // The connection carries the error to the broker; a socket without a listener would stop the process.
    socket.on('error', () => connection.destroy());
    broker.handle(connection);
  });
  const listening = await listen(server, options);
  if (!listening.ok) {
    await closed(broker);
    return listening;
  }
  return ok({
    address: `mqtt://${options.host.includes(':') ? `[${options.host}]` : options.host}:${listening.value}`,
    publish: (topic, payload, { retain, qos }) => publish(broker, { topic, payload, retain, qos }),
    close: async () => {
      landing.close();
      const stopped = new Promise<void>((resolve) => server.close(() => resolve()));
      await closed(broker);
      // Those that never said who they are: the broker does not know them.
      for (const socket of sockets) socket.destroy();
      await stopped;
    },
  });
};

type Landing = {
  readonly authorizePublish: AuthorizePublishHandler;
  readonly tell: (board: string | undefined, word: 'online' | 'offline') => void;
  readonly close: () => void;
};

const landBeforeAcknowledging = (options: EmbeddedOptions, guests: Guests): Landing => {
  let waiting: ((failure?: Error) => void)[] = [];
  let closing = false;
  const group: DeliveryGroup = groupDeliveries({
    take: options.take,
    settled: (failure) => {
      const answered = waiting;
      waiting = [];
      // An error here closes the connection without acknowledging: the board sends again.
      for (const answer of answered) answer(failure);
    },
  });
  return {
    authorizePublish: (client, packet, done) => {
      // Wills of boards that go because the broker goes say nothing about the boards.
      if (closing || client === null) return done(new Error('the broker is closing'));
      const delivery = deliveryOf({ client, packet, guests, options });
      if (delivery.refusal !== undefined) withhold(packet);
      waiting.push((failure) => done(failure ?? null));
      group.add(delivery);
    },
    tell: (board, word) => {
      if (board === undefined || closing) return;
      // Nobody waits for this one; the place is held so that answers and deliveries stay in step.
      waiting.push(() => undefined);
      group.add({
        topic: statusTopic(board),
        payload: Buffer.from(word),
        qos: 0,
        retained: false,
        redelivered: false,
        arrivalMs: options.now(),
        board,
      });
    },
    close: () => {
      closing = true;
      group.flush();
    },
  };
};

type Arrived = {
  readonly client: Client;
  readonly packet: PublishPacket;
  readonly guests: Guests;
  readonly options: EmbeddedOptions;
};

const deliveryOf = ({ client, packet, guests, options }: Arrived): Delivery => {
  const cut = cutMessage(packet.topic);
  const topic = cut?.topic ?? packet.topic;
  const board = guests.boardOf(client);
  const refusal =
    publishRefusal(topic, { board, filters: options.filters ?? DEFAULT_FILTERS }) ??
    (cut === undefined ? undefined : malformed('payload-too-large', { bytes: cut.bytes, limit: LIMITS.bytes }));
  const packetId = packet.qos === 0 ? undefined : guests.packetIdOf(client, packet.messageId);
  return {
    topic,
    payload: typeof packet.payload === 'string' ? Buffer.from(packet.payload) : packet.payload,
    qos: packet.qos,
    // Here the retain bit says "keep this one": the message itself is fresh.
    retained: false,
    // The session is the board's own here: DUP means what it says only where the board keeps one.
    redelivered: packet.dup && !client.clean,
    arrivalMs: options.now(),
    ...(packetId === undefined ? {} : { packetId }),
    ...(board === undefined ? {} : { board }),
    ...(refusal === undefined ? {} : { refusal }),
  };
};

/** A refused message is acknowledged, so that it does not come for ever, but nobody else gets it. */
const withhold = (packet: PublishPacket): void => {
  packet.topic = '$refused';
  packet.payload = Buffer.alloc(0);
  packet.retain = false;
};

type Publication = {
  readonly topic: string;
  readonly payload: string;
  readonly retain: boolean;
  readonly qos: 0 | 1;
};

const publish = (broker: Aedes, publication: Publication): Promise<void> =>
  new Promise((resolve, reject) => {
    broker.publish({ cmd: 'publish', dup: false, ...publication }, (error) => (error ? reject(error) : resolve()));
  });

const closed = (broker: Aedes): Promise<void> => new Promise((resolve) => broker.close(() => resolve()));

const listen = (server: Server, { host, port }: EmbeddedOptions): Promise<Result<number, BrokerFault>> =>
  new Promise((resolve) => {
    server.once('error', (error: NodeJS.ErrnoException) => resolve(fault(faultOf(error, host, port))));
    server.listen({ host, port }, () => {
      const address = server.address();
      resolve(ok(typeof address === 'object' && address !== null ? address.port : port));
    });
  });

const faultOf = (error: NodeJS.ErrnoException, host: string, port: number): BrokerFault => {
  switch (error.code) {
    case 'EADDRINUSE':
      return { code: 'port-taken', host, port };
    case 'EACCES':
      return { code: 'port-forbidden', host, port };
    case 'EADDRNOTAVAIL':
    case 'ENOTFOUND':
      return { code: 'address-not-here', host, port };
    default:
      return { code: 'listen-failed', host, port, reason: error.code ?? error.message };
  }
};
