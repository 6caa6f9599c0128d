import { execFile } from 'node:child_process';
import { once } from 'node:events';
import { createServer } from 'node:net';
import { networkInterfaces } from 'node:os';
import { promisify } from 'node:util';
import { Aedes } from 'aedes';
import { describe, expect, onTestFinished, test } from 'vitest';
import { openJournal } from '../../gateway/journal/open.js';
import type { StoredReading } from '../../gateway/journal/readings.js';
import { FLAG } from '../../rules/quality/flag.js';
import { verdictFromFlags } from '../../rules/quality/packed.js';
import type { AddedBoard, SourcePicture } from '../../rules/wire/api.js';
import type { BoardPicture } from '../../rules/wire/picture.js';
import { type GatewayProcess, startGatewayProcess, untilAnswer, untilLinked } from '../support/gateway-process.js';
import { mosquittoMissing, startMosquitto } from '../support/mosquitto.js';
import { pahoMissing } from '../support/paho.js';
import { peer } from '../support/peer.js';
import {
  type Message,
  mosquittoPubMissing,
  type Publish,
  publishWithMosquitto,
  publishWithPaho,
} from '../support/publishers.js';

/** Half a minute ago in whole seconds, as a board's clock counts them. */
const STAMP_S = Math.floor(Date.now() / 1000) - 30;

/** [{-2: "larva-1/", -3: STAMP_S, 0: "temp", 1: "Cel", 2: 23.5}, {0: "do", 1: "kg/m3", 2: 4([-4, 78])}] in CBOR. */
const CBOR_PACK = Buffer.concat([
  Buffer.from('82a521686c617276612d312f221a', 'hex'),
  Buffer.from(STAMP_S.toString(16), 'hex'),
  Buffer.from('006474656d7001634365 6c02f94de0a30062646f01656b672f6d3302c48223184e'.replaceAll(' ', ''), 'hex'),
]);

const water = (temp: number, ts: number): Message => ({
  topic: 'boards/shed-3/water',
  payload: JSON.stringify({ temp, ts }),
});

const MESSAGES: readonly Message[] = [
  { topic: 'tanks/larva-1/temperature', payload: '23.4\n' },
  { topic: 'tanks/larva-2/temperature', payload: '22.1', qos: 0 },
  water(23.4, STAMP_S),
  // Older than the one before, the same once more, and another value at the same moment.
  water(23.3, STAMP_S - 60),
  water(23.4, STAMP_S),
  water(23.9, STAMP_S),
  { topic: 'boards/shed-3/pack', payload: `[{"bn":"larva-1/","bt":${STAMP_S},"n":"level","u":"m","v":0.61}]`, qos: 0 },
  { topic: 'boards/shed-3/pack', payload: CBOR_PACK },
  // The board asks the broker to keep it: what arrives now is fresh all the same.
  { topic: 'boards/shed-3/kept', payload: '7.5', retain: true },
  { topic: 'boards/shed-3/status', payload: 'online', retain: true },
];

const STAMP_MS = STAMP_S * 1000;
const arrived = 'when it arrived';
type Row = readonly [deviceMs: number | typeof arrived, variant: number, raw: number, syntax: number];

/** Nobody has named them yet, so nothing was judged: but two values of one moment cannot both be right. */
const KEPT: Readonly<Record<string, readonly Row[]>> = {
  'tanks/larva-1/temperature': [[arrived, 0, 23.4, FLAG.notEvaluated]],
  'tanks/larva-2/temperature': [[arrived, 0, 22.1, FLAG.notEvaluated]],
  'boards/shed-3/water#/temp': [
    [STAMP_MS - 60_000, 0, 23.3, FLAG.notEvaluated],
    [STAMP_MS, 0, 23.4, FLAG.notEvaluated],
    [STAMP_MS, 1, 23.9, FLAG.suspect],
  ],
  'boards/shed-3/pack#larva-1/level@m': [[STAMP_MS, 0, 0.61, FLAG.notEvaluated]],
  'boards/shed-3/pack#larva-1/temp@Cel': [[STAMP_MS, 0, 23.5, FLAG.notEvaluated]],
  'boards/shed-3/pack#larva-1/do@kg/m3': [[STAMP_MS, 0, 0.0078, FLAG.notEvaluated]],
  'boards/shed-3/kept': [[arrived, 0, 7.5, FLAG.notEvaluated]],
};
const COUNT = Object.values(KEPT).flat().length;

const rowOf = ({ deviceMs, arrivalMs, variant, raw, flags }: StoredReading): Row => [
  deviceMs === arrivalMs ? arrived : deviceMs,
  variant,
  raw,
  verdictFromFlags(flags).by.syntax ?? FLAG.notEvaluated,
];

/** What the stopped gateway has kept, by key. */
const keptBy = async (gateway: GatewayProcess): Promise<typeof KEPT> => {
  expect(await gateway.kill()).toBe(0);
  const journal = openJournal(gateway.data, { durability: 'second' });
  if (!journal.ok) throw new Error(journal.fault.code);
  onTestFinished(() => journal.value.close());
  const { sources, readings } = journal.value;
  return Object.fromEntries(
    sources.list().map(({ id, key }) => [key, readings.between(id, 0, Number.MAX_SAFE_INTEGER).map(rowOf)]),
  );
};

type Opened = { readonly gateway: GatewayProcess; readonly port: number };

const throughMosquitto = async (): Promise<Opened> => {
  const mosquitto = await startMosquitto();
  onTestFinished(() => mosquitto.close());
  const gateway = await startGatewayProcess({ variables: { NIGHTWATER_MQTT: mosquitto.url } });
  onTestFinished(() => gateway.close());
  await untilLinked(gateway);
  return { gateway, port: mosquitto.port };
};

const intoOurOwn = async (): Promise<Opened> => {
  const gateway = await startGatewayProcess();
  onTestFinished(() => gateway.close());
  return { gateway, port: gateway.brokerPort() };
};

const everyForm = (publish: Publish, open: () => Promise<Opened>): void => {
  test('is on the list of sources with its last value, and kept under its own time', async () => {
    const { gateway, port } = await open();
    await publish(port, MESSAGES);
    const sources = await untilAnswer<readonly SourcePicture[]>(
      gateway,
      '/sources',
      (all) => all.reduce((sum, { readings }) => sum + readings, 0) >= COUNT,
    );
    const boards = await untilAnswer<readonly BoardPicture[]>(gateway, '/boards', (all) => all.length > 0);
    expect(boards).toMatchObject([{ id: 'shed-3', state: 'online' }]);
    const lastValues = Object.fromEntries(Object.entries(KEPT).map(([key, rows]) => [key, rows.at(-1)?.[2]]));
    expect(Object.fromEntries(sources.map(({ key, lastValue }) => [key, lastValue]))).toEqual(lastValues);
    expect(await keptBy(gateway)).toEqual(KEPT);
  });
};

for (const [name, missing, publish] of [
  ['mosquitto_pub', mosquittoPubMissing, publishWithMosquitto],
  ['paho', pahoMissing, publishWithPaho],
] as const) {
  peer(name, missing)(`what ${name} publishes in every form`, () => {
    describe('into the broker inside', () => everyForm(publish, intoOurOwn));
    peer('mosquitto', mosquittoMissing)('through mosquitto', () => everyForm(publish, throughMosquitto));
  });
}

peer('mosquitto_pub', mosquittoPubMissing)('what a broker kept from before the gateway came', () => {
  peer('mosquitto', mosquittoMissing)('at mosquitto', () => {
    test('is no reading when it has no stamp, and tells the state of a board', async () => {
      const mosquitto = await startMosquitto();
      onTestFinished(() => mosquitto.close());
      await publishWithMosquitto(mosquitto.port, [
        { topic: 'tanks/larva-1/temperature', payload: '31.9', retain: true },
        { topic: 'boards/shed-3/status', payload: 'online', retain: true },
      ]);
      const gateway = await startGatewayProcess({ variables: { NIGHTWATER_MQTT: mosquitto.url } });
      onTestFinished(() => gateway.close());
      await untilAnswer<readonly BoardPicture[]>(gateway, '/boards', ([board]) => board?.state === 'online');
      // A live one after it: had the kept one been sent, it would have come before.
      await publishWithMosquitto(mosquitto.port, [{ topic: 'tanks/larva-1/temperature', payload: '23.4' }]);
      await untilAnswer<readonly SourcePicture[]>(gateway, '/sources', ([one]) => one?.readings === 1);
      expect(await keptBy(gateway)).toEqual({ 'tanks/larva-1/temperature': [[arrived, 0, 23.4, FLAG.notEvaluated]] });
    });
  });
});

/** A broker of MQTT 3.1.1: it does not know how not to send what it has kept (MQTT 5.0, 3.8.3.1). */
const olderBroker = async (): Promise<number> => {
  const broker = await Aedes.createBroker();
  const server = createServer(broker.handle).listen(0, '127.0.0.1');
  await once(server, 'listening');
  onTestFinished(async () => {
    await new Promise<void>((resolve) => broker.close(() => resolve()));
    server.close();
  });
  const address = server.address();
  if (address === null || typeof address === 'string') throw new Error('no port');
  return address.port;
};

peer('mosquitto_pub', mosquittoPubMissing)('what an older broker sends because it had kept it', () => {
  test('is no reading without a stamp, and history with one', async () => {
    const port = await olderBroker();
    await publishWithMosquitto(port, [
      { topic: 'tanks/larva-1/temperature', payload: '31.9', retain: true },
      { ...water(31.8, STAMP_S), retain: true },
    ]);
    const gateway = await startGatewayProcess({ variables: { NIGHTWATER_MQTT: `mqtt://127.0.0.1:${port}` } });
    onTestFinished(() => gateway.close());
    const sources = await untilAnswer<readonly SourcePicture[]>(gateway, '/sources', (all) => all.length === 2);
    expect(sources.map(({ key, readings }) => [key, readings]).sort()).toEqual([
      ['boards/shed-3/water#/temp', 1],
      ['tanks/larva-1/temperature', 0],
    ]);
    expect(await keptBy(gateway)).toEqual({
      'tanks/larva-1/temperature': [],
      'boards/shed-3/water#/temp': [[STAMP_MS, 0, 31.8, FLAG.notEvaluated]],
    });
  });
});

const outside = Object.values(networkInterfaces())
  .flat()
  .find((each) => each?.family === 'IPv4' && !each.internal)?.address;

/** The system hands what goes to an own address over inside the machine: nothing leaves it. */
peer('an address that is not loopback', () => (outside === undefined ? 'this machine has none' : undefined))(
  'a board that does not come from this machine itself',
  () => {
    peer('mosquitto_pub', mosquittoPubMissing)('with mosquitto_pub', () => {
      test('is refused without a password, and heard with the line that “Add a board” gives', async () => {
        const gateway = await startGatewayProcess({ variables: { NIGHTWATER_MQTT_LISTEN: `${outside}:0` } });
        onTestFinished(() => gateway.close());
        const run = promisify(execFile);
        const place = ['-h', outside ?? '', '-p', String(gateway.brokerPort())];
        const refused = run('mosquitto_pub', [...place, '-q', '1', '-t', 'tanks/larva-1/temperature', '-m', '1']);
        await expect(refused).rejects.toMatchObject({ code: 5, stderr: expect.stringContaining('not authorised') });

        const added = await gateway.ask('/boards', { method: 'POST', body: { board: 'shed-3', tank: 'larva-1' } });
        const { recipe } = JSON.parse(added.text) as AddedBoard;
        await run('sh', ['-c', recipe.publishLine]);
        await untilAnswer<readonly SourcePicture[]>(gateway, '/sources', ([one]) => one?.lastValue === 23.4);
        expect(await keptBy(gateway)).toEqual({ 'tanks/larva-1/temperature': [[arrived, 0, 23.4, FLAG.notEvaluated]] });
      });
    });
  },
);
