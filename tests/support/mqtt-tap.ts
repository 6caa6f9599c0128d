import { once } from 'node:events';
import { connect, createServer, type Socket } from 'node:net';

/** A packet on its way: type and flags of the first byte, and what follows the length (MQTT 3.1.1 section 2.2). */
export type TappedPacket = {
  readonly from: 'client' | 'server';
  readonly type: number;
  readonly flags: number;
  readonly body: Buffer;
};

export const CONNACK = 2;
export const PUBLISH = 3;
export const PUBACK = 4;

export type Tap = {
  readonly port: number;
  /** Breaks every connection as a pulled cable does, without a goodbye. */
  readonly cut: () => void;
  readonly close: () => Promise<void>;
};

/** Stands between a client and a server and shows each packet before it is handed on. */
export const openTap = async (targetPort: number, see: (packet: TappedPacket) => void): Promise<Tap> => {
  const sockets = new Set<Socket>();
  const server = createServer((client) => {
    const target = connect(targetPort, '127.0.0.1');
    for (const socket of [client, target]) {
      sockets.add(socket);
      socket.setNoDelay();
      socket.on('error', () => undefined);
    }
    pass(client, target, packetReader('client', see));
    pass(target, client, packetReader('server', see));
  });
  server.listen(0, '127.0.0.1');
  await once(server, 'listening');
  const address = server.address();
  if (address === null || typeof address === 'string') throw new Error('no port');
  const cut = (): void => {
    for (const socket of sockets) socket.destroy();
    sockets.clear();
  };
  return {
    port: address.port,
    cut,
    close: async () => {
      const closed = once(server, 'close');
      server.close();
      cut();
      await closed;
    },
  };
};

const pass = (from: Socket, to: Socket, read: (chunk: Buffer) => void): void => {
  from.on('data', (chunk) => {
    read(chunk);
    if (!to.write(chunk)) {
      from.pause();
      to.once('drain', () => from.resume());
    }
  });
  from.on('end', () => to.end());
  from.on('close', () => to.destroy());
};

const packetReader = (from: TappedPacket['from'], see: (packet: TappedPacket) => void): ((chunk: Buffer) => void) => {
  let held: Buffer = Buffer.alloc(0);
  return (chunk) => {
    held = Buffer.concat([held, chunk]);
    for (let next = firstPacket(held); next !== undefined; next = firstPacket(held)) {
      const first = held[0] ?? 0;
      see({ from, type: first >> 4, flags: first & 0x0f, body: held.subarray(next.start, next.end) });
      held = held.subarray(next.end);
    }
  };
};

const firstPacket = (bytes: Buffer): { readonly start: number; readonly end: number } | undefined => {
  let length = 0;
  for (let at = 1; at <= 4; at += 1) {
    const byte = bytes[at];
    if (byte === undefined) return undefined;
    length += (byte & 0x7f) * 128 ** (at - 1);
    if (byte < 0x80) return at + 1 + length <= bytes.length ? { start: at + 1, end: at + 1 + length } : undefined;
  }
  throw new Error('not MQTT');
};

/** The packet id of a PUBLISH at QoS 1 (after its topic) or of a PUBACK (first). */
export const packetIdOf = ({ type, body }: TappedPacket): number =>
  body.readUInt16BE(type === PUBLISH ? 2 + body.readUInt16BE(0) : 0);
