import { mkdirSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { join } from 'node:path';
import BetterSqlite3 from 'better-sqlite3';
import { connectAsync, type MqttClient } from 'mqtt';
import { afterAll, beforeAll, describe, expect, onTestFinished, test } from 'vitest';
import { openJournal } from '../../gateway/journal/open.js';
import type { MalformedPicture, SourcePicture } from '../../rules/wire/api.js';
import {
  failedStart,
  type GatewayProcess,
  runCommand,
  startGatewayProcess,
  untilAnswer,
} from '../support/gateway-process.js';
import { tempFolder } from '../support/gateway-room.js';
import { freePort, startMosquitto } from '../support/mosquitto.js';

const QUANTITIES =
  'temperature, conductivity, specific-conductance, salinity, oxygen-mg-l, oxygen-saturation, ph, orp, pressure, level, flow, contact, battery';

type Wrong = {
  readonly what: string;
  readonly topic: string;
  readonly payload: string | Buffer;
  readonly sentence: string;
  /** Nothing was kept of it as a reading, or this. */
  readonly reading?: number;
};

const WRONG: readonly Wrong[] = [
  {
    what: 'a word instead of a number',
    topic: 'tanks/l1/temperature',
    payload: 'warm',
    sentence: '“warm” is not a number: send digits only, as in 23.4.',
  },
  {
    what: 'NaN',
    topic: 'tanks/l2/temperature',
    payload: 'NaN',
    sentence:
      '“NaN” is not a number that can be measured: the board or its probe failed to read. Send nothing when there is no value.',
  },
  {
    what: 'a number too large for a number',
    topic: 'tanks/l3/temperature',
    payload: '1e400',
    sentence:
      '“1e400” is not a number that can be measured: the board or its probe failed to read. Send nothing when there is no value.',
  },
  {
    what: 'ten million bytes',
    topic: 'tanks/l4/temperature',
    payload: Buffer.alloc(10 * 2 ** 20, '7'),
    sentence:
      'The message is 10485760 bytes long and the most is 65536: send fewer readings at once. Its first bytes are kept.',
  },
  {
    what: 'an unknown unit',
    topic: 'boards/shed-3/depth',
    payload: '[{"n":"depth","u":"furlong","v":0.5}]',
    sentence:
      'The unit “furlong” is not known. The reading was taken as it came; choose its unit when you name the source.',
    reading: 0.5,
  },
  {
    what: 'a clock that stands at 1970',
    topic: 'boards/shed-3/early',
    payload: '{"temp":20.1,"ts":12}',
    sentence:
      'The board says that it measured at 1970-01-01T00:00:12.000Z, more than seven days before the message came or more than a minute after: the time of arrival was used. Set the clock of the board, or send no time.',
    reading: 20.1,
  },
  {
    what: 'a clock that is in 2100',
    topic: 'boards/shed-3/late',
    payload: '{"temp":20.2,"ts":4102444800}',
    sentence:
      'The board says that it measured at 2100-01-01T00:00:00.000Z, more than seven days before the message came or more than a minute after: the time of arrival was used. Set the clock of the board, or send no time.',
    reading: 20.2,
  },
  {
    what: 'an unknown quantity in the topic',
    topic: 'tanks/l1/temprature',
    payload: '20.5',
    sentence: `The last part of the topic, “temprature”, is no known quantity. The reading was taken and waits to be named; known are ${QUANTITIES}.`,
    reading: 20.5,
  },
];

describe('a board that sends', () => {
  let gateway: GatewayProcess;
  let board: MqttClient;
  beforeAll(async () => {
    gateway = await startGatewayProcess();
    board = await connectAsync(gateway.broker());
  });
  afterAll(async () => {
    await board?.endAsync(true);
    await gateway?.close();
  });

  test.each(WRONG)('$what is told so, and what to do', async ({ topic, payload, sentence, reading }) => {
    const beforeMs = Date.now();
    // Acknowledged means landed: also what gave no reading is counted and kept.
    await board.publishAsync(topic, payload, { qos: 1 });
    const told = await untilAnswer<readonly MalformedPicture[]>(gateway, '/malformed', () => true);
    const [newest] = told;
    expect(newest).toMatchObject({ topic, sentence, bytes: Buffer.byteLength(payload) });
    const sources = await untilAnswer<readonly SourcePicture[]>(gateway, '/sources', () => true);
    const source = sources.find((each) => each.topic === topic);
    expect(source?.lastValue).toBe(reading);
    // A time that cannot be believed never becomes the reading's time.
    if (reading !== undefined) expect(source?.lastSeenMs).toBeGreaterThanOrEqual(beforeMs);
  });

  test('in a unit that is not one of its quantity is told which are', async () => {
    await board.publishAsync('tanks/l7/temperature', '21', { qos: 1 });
    const sources = await untilAnswer<readonly SourcePicture[]>(gateway, '/sources', () => true);
    const { id } = sources.find(({ topic }) => topic === 'tanks/l7/temperature') ?? { id: 0 };
    const refused = await gateway.ask(`/sources/${id}/mapping`, {
      method: 'POST',
      body: { place: { name: 'L7' }, quantity: 'temperature', unit: 'furlong' },
    });
    expect(refused.status).toBe(422);
    expect(JSON.parse(refused.text)).toMatchObject({
      detail:
        '“furlong” is not a unit of temperature that is understood: choose one of degC, Cel, °C, C, degF, °F, F, K.',
    });
  });
});

test('two probes that speak for one channel are told apart before anything is changed', async () => {
  const folder = tempFolder();
  const path = join(folder, 'site.yaml');
  writeFileSync(
    path,
    `format: 1
site: { name: Wrack Cove, zone: Europe/Lisbon, temperatureUnit: C, hours: 24 }
tanks:
  - id: l1
    name: L1
    probes:
      - { source: tanks/l1/temperature, quantity: temperature, unit: degC }
      - { source: tanks/l1b/temperature, quantity: temperature, unit: degC }
`,
  );
  const refused = await runCommand(['site', 'import', path], { NIGHTWATER_DATA: join(folder, 'data') });
  expect(refused).toEqual({
    code: 1,
    out: '',
    err: `${path}:8:9: Two probes speak for temperature of l1: give one of them “ruling: false”, or a position.\n`,
  });
});

describe('a start that cannot be', () => {
  test('because of a .env that cannot be read', async () => {
    const folder = tempFolder();
    // A folder of that name: whoever runs this may read every file.
    mkdirSync(join(folder, '.env'));
    expect(await failedStart({ NIGHTWATER_DATA: join(folder, 'data') }, folder)).toEqual({
      code: 1,
      said: ['The file .env cannot be read (EISDIR): make it readable for this user, or take it away.'],
    });
  });

  test('because of a line in .env that says nothing, and of a variable that there is not', async () => {
    const folder = tempFolder();
    writeFileSync(join(folder, '.env'), '# the port\nNIGHTWATER_HTTP 8460\n');
    expect(await failedStart({ NIGHTWATER_DATA: join(folder, 'data') }, folder)).toEqual({
      code: 1,
      said: ['Line 2 of .env is not NAME=value: “NIGHTWATER_HTTP 8460”. Write one variable a line; # begins a remark.'],
    });
    writeFileSync(join(folder, '.env'), 'NIGHTWATER_DATE=elsewhere\n');
    expect(await failedStart({ NIGHTWATER_DATA: join(folder, 'data') }, folder)).toEqual({
      code: 1,
      said: [
        'NIGHTWATER_DATE is not a variable of this program. Did you mean “NIGHTWATER_DATA”? Correct its name, or take it away.',
      ],
    });
  });

  test('because its pages’ port is taken', async () => {
    const port = await takenPort();
    const start = { NIGHTWATER_DATA: join(tempFolder(), 'data'), NIGHTWATER_HTTP: `127.0.0.1:${port}` };
    expect(await failedStart(start)).toEqual({
      code: 1,
      said: [
        `127.0.0.1:${port} is taken by another program: stop that program, or set NIGHTWATER_HTTP to another address, as in 127.0.0.1:${port + 1}.`,
      ],
    });
  });

  test('because its broker’s port is taken', async () => {
    const port = await takenPort();
    const start = { NIGHTWATER_DATA: join(tempFolder(), 'data'), NIGHTWATER_MQTT_LISTEN: `127.0.0.1:${port}` };
    expect(await failedStart(start)).toEqual({
      code: 1,
      said: [
        `Port ${port} on 127.0.0.1 is taken by another program, perhaps another MQTT broker. Stop that program, use it by setting NIGHTWATER_MQTT=mqtt://127.0.0.1:${port}, or choose another port with NIGHTWATER_MQTT_LISTEN=127.0.0.1:${port + 1}.`,
      ],
    });
  });

  test('because its folder cannot be written', async () => {
    // Below a file there can be no folder, whoever asks.
    const file = join(tempFolder(), 'a-file');
    writeFileSync(file, '');
    const data = join(file, 'data');
    expect(await failedStart({ NIGHTWATER_DATA: data })).toEqual({
      code: 1,
      said: [
        `The folder ${data} cannot be written (ENOTDIR): choose another with NIGHTWATER_DATA, or mend its permissions.`,
      ],
    });
  });

  test('because its folder is in use', async () => {
    const data = join(tempFolder(), 'data');
    const opened = openJournal(data, { durability: 'second' });
    if (!opened.ok) throw new Error(opened.fault.code);
    onTestFinished(() => opened.value.close());
    expect(await failedStart({ NIGHTWATER_DATA: data })).toEqual({
      code: 1,
      said: [
        `The folder ${data} is in use by another Nightwater process (number ${process.pid}): stop that one first, or choose another folder with NIGHTWATER_DATA.`,
      ],
    });
  });

  test('because its journal is from a newer version, which is left as it is', async () => {
    const data = join(tempFolder(), 'data');
    const opened = openJournal(data, { durability: 'second' });
    if (!opened.ok) throw new Error(opened.fault.code);
    opened.value.close();
    const path = join(data, 'journal.sqlite');
    const database = new BetterSqlite3(path);
    const known = Number(database.pragma('user_version', { simple: true }));
    database.pragma('user_version = 999');
    database.close();
    expect(await failedStart({ NIGHTWATER_DATA: data })).toEqual({
      code: 1,
      said: [
        `The journal ${path} was written by a newer Nightwater (its version is 999, this program knows ${known}): install that version again; nothing was changed.`,
      ],
    });
  });
});

/** A port of this machine that somebody has. */
const takenPort = async (): Promise<number> => {
  const server = createServer();
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  onTestFinished(() => new Promise<void>((resolve) => server.close(() => resolve())));
  const address = server.address();
  if (address === null || typeof address === 'string') throw new Error('no port');
  return address.port;
};

test('a broker that cannot be reached is tried again, and the console says since when, and when it is back', async () => {
  const port = await freePort();
  const gateway = await startGatewayProcess({
    variables: { NIGHTWATER_MQTT: `mqtt://127.0.0.1:${port}`, NIGHTWATER_TZ: 'UTC' },
  });
  onTestFinished(() => gateway.close());
  const [, since = ''] = await gateway.says(
    new RegExp(
      `^The broker mqtt://127\\.0\\.0\\.1:${port} has been away since (\\d\\d:\\d\\d), and is tried again: nothing answers on its port: is the broker running\\?$`,
    ),
  );
  const { link } = await untilAnswer<{ readonly link: { readonly broker: string; readonly sinceMs: number } }>(
    gateway,
    '/picture',
    (picture) => picture.link.broker === 'down',
  );
  expect(new Date(link.sinceMs).toISOString().slice(11, 16)).toBe(since);
  const mosquitto = await startMosquitto(undefined, port);
  onTestFinished(() => mosquitto.close());
  await gateway.says(
    new RegExp(
      `^The broker mqtt://127\\.0\\.0\\.1:${port} is there again; it had not kept our session: messages sent meanwhile may be missing$`,
    ),
  );
});
