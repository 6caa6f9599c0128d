import { connect, type MqttClient } from 'mqtt';
import { advance, type Run } from './advance.js';
import type { Board } from './board.js';
import { birthOf, type Message, willOf } from './payload.js';

/** The only I/O of the simulator: every board is an MQTT client of its own, with a last will. */
export type Publisher = {
  readonly send: (messages: readonly Message[]) => void;
  /** Every board says goodbye as "offline" and disconnects. */
  readonly close: () => Promise<void>;
};

export type PublisherOptions = {
  /** Credentials of a board, where the broker asks for them. */
  readonly credentialOf?: (board: string) => { readonly username: string; readonly password: string };
  readonly onFault?: (board: string, fault: Error) => void;
};

const KEEP_ALIVE_S = 15;
const RETRY_MS = 1000;
/** Readings a board keeps for a broker that is away. */
const WAITING_MOST = 500;

type Line = { readonly client: MqttClient; readonly waiting: Message[] };

export const openPublisher = (url: string, boards: readonly Board[], options: PublisherOptions = {}): Publisher => {
  const lines = new Map<string, Line>();
  const boardOf = (id: string): Board => {
    const board = boards.find((one) => one.id === id);
    if (board === undefined) throw new Error(`No board ${id}`);
    return board;
  };
  const act: { readonly [kind in Message['kind']]: (message: Message) => void } = {
    birth: ({ board }) => {
      if (!lines.has(board)) lines.set(board, openLine(url, boardOf(board), options));
    },
    // A board that has lost its power or link cannot say so: the line is cut, and the broker sends the will.
    will: ({ board }) => {
      lines.get(board)?.client.end(true);
      lines.delete(board);
    },
    reading: (message) => {
      const line = lines.get(message.board);
      if (line === undefined) return;
      if (line.client.connected) publish(line.client, message);
      else keep(line.waiting, message);
    },
  };
  return {
    send: (messages) => {
      for (const message of messages) act[message.kind](message);
    },
    close: async () => {
      await Promise.all([...lines].map(([board, { client }]) => farewell(client, willOf(boardOf(board)))));
      lines.clear();
    },
  };
};

export type Playing = { readonly stop: () => Run };

/** Lets a hatchery live by the clock it is given: once a second it is brought up to now and says what it has to say. */
export const playHatchery = (start: Run, publisher: Publisher, nowMs: () => number): Playing => {
  let run = start;
  const tick = (): void => {
    const now = nowMs();
    // After a night in standby the boards have said nothing either: the water catches up in longer steps.
    if (now - run.state.atMs > CAUGHT_UP_MS) {
      const slept = advance(run, now - CAUGHT_UP_MS, 60);
      run = slept.run;
      publisher.send(slept.messages.filter(({ kind }) => kind !== 'reading'));
    }
    const step = advance(run, now, 1);
    run = step.run;
    publisher.send(step.messages);
  };
  const timer = setInterval(tick, 1000);
  return {
    stop: () => {
      clearInterval(timer);
      return run;
    },
  };
};

const CAUGHT_UP_MS = 60_000;

const openLine = (url: string, board: Board, { credentialOf, onFault }: PublisherOptions): Line => {
  const { topic, payload, qos, retain } = willOf(board);
  const waiting: Message[] = [];
  const client = connect(url, {
    ...credentialOf?.(board.id),
    clientId: `board-${board.id}`,
    clean: true,
    keepalive: KEEP_ALIVE_S,
    reconnectPeriod: RETRY_MS,
    will: { topic, payload: Buffer.from(payload), qos, retain },
  });
  client.on('error', (fault) => onFault?.(board.id, fault));
  client.on('connect', () => {
    publish(client, birthOf(board));
    for (const message of waiting.splice(0)) publish(client, message);
  });
  return { client, waiting };
};

const publish = (client: MqttClient, { topic, payload, qos, retain }: Message): void => {
  // An unacknowledged QoS 1 message stays in the client and is sent again after a reconnect.
  client.publish(topic, typeof payload === 'string' ? payload : Buffer.from(payload), { qos, retain });
};

const keep = (waiting: Message[], message: Message): void => {
  waiting.push(message);
  if (waiting.length > WAITING_MOST) waiting.shift();
};

/** A normal disconnect sends no will (MQTT 5.0, 3.1.2.5), so a board that leaves in order says it itself. */
const farewell = async (client: MqttClient, { topic, payload, qos, retain }: Message): Promise<void> => {
  if (client.connected) {
    // A broker that goes at the same moment never answers: then the line is gone, and nobody is left to be told.
    const gone = new Promise<void>((resolve) => client.once('close', () => resolve()));
    const words = typeof payload === 'string' ? payload : Buffer.from(payload);
    await Promise.race([client.publishAsync(topic, words, { qos, retain }), gone]);
  }
  await client.endAsync(!client.connected);
};
