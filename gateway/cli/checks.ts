import { X509Certificate } from 'node:crypto';
import { accessSync, constants, existsSync, readFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { dirname, resolve } from 'node:path';
import { connectAsync } from 'mqtt';
import { linkReasonWords } from '../../rules/words/broker.js';
import { journalSentence } from '../../rules/words/journal.js';
import type { HostPort } from '../config.js';
import { shownAddress } from '../intake/broker-url.js';
import { linkReasonOf } from '../intake/link.js';
import { openJournal } from '../journal/open.js';
import { listenSentence } from '../listen.js';
import { history } from './check-history.js';
import { attention, failing, type Look, well } from './look.js';
import { findRunning } from './running.js';

/** Whether the folder can be used, and the journal in it is whole; or that a gateway has it and how it is. */
const folder: Look = async ({ dataFolder, durability }) => {
  if (!existsSync(dataFolder)) {
    const above = resolve(dirname(resolve(dataFolder)));
    try {
      accessSync(existsSync(above) ? above : '.', constants.W_OK);
      return well(`The data folder ${dataFolder} will be made by the first start.`);
    } catch {
      return failing(journalSentence({ code: 'folder-not-writable', folder: dataFolder, because: 'EACCES' }));
    }
  }
  const opened = openJournal(dataFolder, { durability });
  if (opened.ok) {
    opened.value.close();
    return well(`The journal in ${dataFolder} is whole; no gateway has it open.`);
  }
  if (opened.fault.code !== 'already-in-use') return failing(journalSentence(opened.fault));
  const health = await findRunning(dataFolder)?.ask('/health');
  if (health === undefined) return failing(journalSentence(opened.fault));
  if (!health.ok) return failing(health.fault.join(' '));
  const { state, broker } = JSON.parse(health.value.text) as { readonly state: string; readonly broker: string };
  return state === 'well'
    ? well(`A gateway runs on ${dataFolder} and is well.`)
    : attention(`A gateway runs on ${dataFolder}; its broker is ${broker}.`);
};

const portFault = ({ host, port }: HostPort): Promise<string | undefined> =>
  new Promise((answer) => {
    const server = createServer();
    server.once('error', (error: NodeJS.ErrnoException) => answer(error.code ?? error.message));
    server.listen({ host, port }, () => server.close(() => answer(undefined)));
  });

/** Asked only while no gateway runs: its own ports would be taken by itself. */
const pagesPort: Look = async ({ http, dataFolder }) => {
  if (findRunning(dataFolder) !== undefined) return undefined;
  const because = await portFault(http);
  return because === undefined
    ? well(`Port ${http.port} is free for the pages.`)
    : failing(listenSentence({ ...http, because }));
};

const brokerWithin: Look = async ({ mqtt, dataFolder }) => {
  if (mqtt.kind !== 'embedded' || findRunning(dataFolder) !== undefined) return undefined;
  const because = await portFault(mqtt);
  return because === undefined
    ? well(`Port ${mqtt.port} is free for the broker inside.`)
    : failing(
        `${mqtt.host}:${mqtt.port} cannot be opened for the broker inside (${because}): stop the other program, use it with NIGHTWATER_MQTT, or set NIGHTWATER_MQTT_LISTEN.`,
      );
};

const brokerElsewhere: Look = async ({ mqtt }) => {
  if (mqtt.kind !== 'external') return undefined;
  const name = shownAddress(mqtt.address);
  try {
    const client = await connectAsync(mqtt.url, {
      clientId: `nightwater-check-${process.pid}`,
      reconnectPeriod: 0,
      connectTimeout: 5_000,
    });
    await client.endAsync(true);
  } catch (error) {
    const said = error instanceof Error ? error : new Error(String(error));
    return failing(`The broker ${name} cannot be used: ${linkReasonWords(linkReasonOf(said))}.`);
  }
  // MQTT has no question for these; a broker that forgets its sessions loses readings while the gateway is away.
  return attention(
    `The broker ${name} answers. It cannot be asked whether it keeps messages: set persistence on and an unlimited queue (mosquitto: persistence true, max_queued_messages 0).`,
  );
};

const DAY_MS = 86_400_000;

const certificate: Look = async ({ tls }, nowMs) => {
  if (tls === undefined)
    return attention(
      'Without https a phone cannot get pushed alarms: see NIGHTWATER_TLS_CERT, or put a proxy in front.',
    );
  try {
    readFileSync(tls.keyPath);
    const { validTo } = new X509Certificate(readFileSync(tls.certPath));
    const days = Math.floor((Date.parse(validTo) - nowMs) / DAY_MS);
    if (days < 0) return failing(`The certificate ${tls.certPath} ended on ${validTo}: renew it.`);
    return days < 30
      ? attention(`The certificate ${tls.certPath} ends in ${days} days: renew it.`)
      : well(`The certificate is good for ${days} days.`);
  } catch (error) {
    const { code, message } = error as NodeJS.ErrnoException;
    return failing(
      `The certificate or its key cannot be used (${code ?? message}): see NIGHTWATER_TLS_CERT and NIGHTWATER_TLS_KEY.`,
    );
  }
};

/** A machine that lost its clock counts from 1970 or from when its system was made. */
const EARLIEST_MS = Date.UTC(2025, 0, 1);

const clock: Look = async (_config, nowMs) =>
  nowMs < EARLIEST_MS
    ? failing(
        `The clock of this machine says ${new Date(nowMs).toISOString()}: set it, and keep it with a time service.`,
      )
    : undefined;

/** In the order in which a start would meet them. */
export const LOOKS: readonly Look[] = [clock, folder, certificate, pagesPort, brokerWithin, brokerElsewhere, history];
