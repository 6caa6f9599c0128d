import type { Quantity } from '../../rules/quantity.js';
import type { Recipe } from '../../rules/wire/api.js';
import { statusTopic, tankTopic } from '../../rules/wire/topic.js';
import { isLoopback } from '../intake/board-access.js';
import type { BoardDoor } from './parts.js';

/** In single quotes for a POSIX shell: nothing inside means anything to it. */
const quoted = (text: string): string => (/^[\w@%+=:,./-]+$/.test(text) ? text : `'${text.replaceAll("'", `'\\''`)}'`);

const isOpenAddress = (host: string): boolean => host === '0.0.0.0' || host === '::';

/** The address that a board on the network has to use: where the page itself was reached, when we listen everywhere. */
const hostFor = ({ host }: BoardDoor, pageHost: string | undefined): string => {
  if (!isOpenAddress(host)) return host;
  const name = pageHost?.replace(/:\d+$/, '').replaceAll(/^\[|\]$/g, '');
  return name === undefined || name === '' ? '127.0.0.1' : name;
};

const REMARKS = {
  external: 'The broker is not part of Nightwater: give its own name and password where it asks for them.',
  'this-machine': 'On this machine no password is needed. From any other, make one with “Add a board”.',
  'to-fill-in': 'Put in a board and its password: “Add a board” makes them and fills in this line.',
  told: 'The password is shown this once. Keep it in the board; a lost one is replaced by a new one.',
} as const;

export type Credential = { readonly board: string; readonly password: string };

const TO_FILL_IN: Credential = { board: 'BOARD', password: 'PASSWORD' };

const caseOf = (door: BoardDoor, host: string, credential: Credential | undefined): keyof typeof REMARKS => {
  if (credential !== undefined) return 'told';
  if (door.external) return 'external';
  return host === 'localhost' || isLoopback(host) ? 'this-machine' : 'to-fill-in';
};

/** The complete publish line, with the real address. */
export const recipeFor = (
  door: BoardDoor,
  wish: {
    readonly pageHost: string | undefined;
    readonly tank: string;
    readonly quantity: Quantity;
    readonly value: number;
    readonly credential?: Credential;
  },
): Recipe => {
  const host = hostFor(door, wish.pageHost);
  const which = caseOf(door, host, wish.credential);
  const who = which === 'to-fill-in' ? TO_FILL_IN : wish.credential;
  const topicExample = tankTopic(wish.tank, wish.quantity);
  const words = [
    'mosquitto_pub',
    ...['-h', host, '-p', String(door.port)],
    ...(door.tls ? ['--capath', '/etc/ssl/certs'] : []),
    ...(who === undefined ? [] : ['-u', who.board, '-P', who.password]),
    ...['-q', '1', '-t', topicExample, '-m', String(wish.value)],
  ];
  return {
    publishLine: words.map(quoted).join(' '),
    host,
    port: door.port,
    tls: door.tls,
    ...(who === undefined ? {} : { user: who.board }),
    topicExample,
    statusTopic: statusTopic(who?.board ?? 'BOARD'),
    remark: REMARKS[which],
  };
};
