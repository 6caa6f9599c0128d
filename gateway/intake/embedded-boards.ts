import { createHash } from 'node:crypto';
import type { AedesOptions, AuthenticateError, Client } from 'aedes';
import { isLoopback } from './board-access.js';

/** Whether a board's name and password are right; asked only when a name is given. */
export type Authenticate = (board: string, password: string) => boolean | Promise<boolean>;

export type Guests = {
  readonly authenticate: NonNullable<AedesOptions['authenticate']>;
  readonly boardOf: (client: Client) => string | undefined;
  /** The board that came with this connection if it had none before; undefined for an anonymous one. */
  readonly arrived: (client: Client) => string | undefined;
  /** The board whose last connection this was. */
  readonly left: (client: Client) => string | undefined;
  /** The id of a packet among all boards, where its board keeps its session; see `Delivery.packetId`. */
  readonly packetIdOf: (client: Client, messageId: number | undefined) => number | undefined;
};

/** Who is connected to the embedded broker, and by what right. */
export const receiveGuests = (isRight: Authenticate, addressOf: (client: Client) => string | undefined): Guests => {
  const boards = new WeakMap<Client, string>();
  const sessions = new WeakMap<Client, number>();
  const connections = new Map<string, Set<Client>>();
  return {
    authenticate: (client, name, password, done) => {
      if (name === undefined) {
        return isLoopback(addressOf(client)) ? done(null, true) : done(notAuthorized(), false);
      }
      // A promise, so that a check that throws refuses instead of stopping the gateway.
      Promise.resolve()
        .then(() => isRight(name, password?.toString('utf8') ?? ''))
        .then((right) => {
          if (right) boards.set(client, name);
          done(right ? null : notAuthorized(), right);
        })
        .catch(() => done(notAuthorized(), false));
    },
    boardOf: (client) => boards.get(client),
    arrived: (client) => {
      const board = boards.get(client);
      if (board === undefined) return undefined;
      const clients = connections.get(board) ?? new Set<Client>();
      connections.set(board, clients.add(client));
      return clients.size === 1 ? board : undefined;
    },
    left: (client) => {
      const board = boards.get(client);
      const clients = board === undefined ? undefined : connections.get(board);
      if (clients === undefined || !clients.delete(client) || clients.size > 0) return undefined;
      return board;
    },
    packetIdOf: (client, messageId) => {
      if (client.clean || messageId === undefined || messageId === 0) return undefined;
      const session = sessions.get(client) ?? sessionNumber(client.id);
      sessions.set(client, session);
      return session * 0x10000 + messageId;
    },
  };
};

/** [MQTT 3.1.1 table 3.1] return code 5: not authorized. */
const notAuthorized = (): AuthenticateError => Object.assign(new Error('not authorized'), { returnCode: 5 as const });

/** 32 bits of the client id: with the packet id it stays below 2^48, an exact number. */
const sessionNumber = (clientId: string): number => createHash('sha256').update(clientId).digest().readUInt32BE(0);
