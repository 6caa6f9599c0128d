import { fault, type Result } from '../rules/result.js';
import { brokerAwaySentence, brokerBackSentence, brokerFaultSentence } from '../rules/words/broker.js';
import { momentWords } from '../rules/words/clock.js';
import { isRightBoard } from './access/board-credentials.js';
import { heartbeatWill } from './alerts/heartbeat.js';
import type { Clock } from './clock.js';
import type { Config } from './config.js';
import type { BoardDoor } from './http/parts.js';
import { shownAddress } from './intake/broker-url.js';
import type { Broker, LinkChange } from './intake/delivery.js';
import { openEmbeddedBroker } from './intake/embedded.js';
import { openExternalBroker } from './intake/external.js';
import type { Journal } from './journal/journal.js';
import type { Keeping } from './watchkeeper.js';

export type BrokerParts = {
  readonly config: Config;
  readonly clock: Clock;
  readonly journal: Journal;
  readonly keeping: Keeping;
  readonly say: (line: string) => void;
  /** A taken port is no fault: the next free one is used. */
  readonly further: boolean;
};

const FURTHER = 20;

/** The broker inside, or a client of the hatchery's own: what it brings goes to the watch, and each change of the link. */
export const openBroker = async (parts: BrokerParts): Promise<Result<Broker, string>> => {
  const { config, clock, journal, keeping, further } = parts;
  const { filters, mqtt } = config;
  const onLink = keepLink(parts);
  const common = { take: keeping.take, now: clock.now, filters };
  if (mqtt.kind === 'external') {
    const site = keeping.state().hatchery.site.id;
    const own = { clientId: `nightwater-${site}`, will: heartbeatWill(site) };
    const broker = openExternalBroker({ ...common, ...own, url: mqtt.url, onLink });
    return broker.ok ? broker : fault(brokerFaultSentence(broker.fault));
  }
  const authenticate = isRightBoard(journal);
  for (let tried = 0; ; tried += 1) {
    const port = mqtt.port === 0 ? 0 : mqtt.port + tried;
    const broker = await openEmbeddedBroker({ ...common, host: mqtt.host, port, authenticate });
    if (broker.ok) {
      onLink({ broker: 'up', atMs: clock.now() });
      return broker;
    }
    const canGoOn = further && broker.fault.code === 'port-taken' && tried < FURTHER;
    if (!canGoOn) return fault(brokerFaultSentence(broker.fault));
  }
};

/** Journals each change, tells the engine, and says on the console since when a broker elsewhere is away. */
const keepLink = ({ config: { mqtt }, clock, journal, keeping, say }: BrokerParts): ((change: LinkChange) => void) => {
  let wasAway = false;
  const sayLink = ({ broker, atMs, reason }: LinkChange, address: string): void => {
    if (broker === 'down') {
      const since = momentWords(atMs, clock.now(), keeping.state().hatchery.site);
      say(brokerAwaySentence(address, since, reason ?? 'lost'));
    } else if (wasAway) say(brokerBackSentence(address, reason));
    wasAway = broker === 'down';
  };
  return (change) => {
    const { broker, atMs, reason } = change;
    journal.runs.keepLink(change);
    keeping.tell({ kind: 'link', atMs, broker });
    if (broker === 'up' && reason === 'session-new') journal.packets.forgetAll();
    if (mqtt.kind === 'external') sayLink(change, shownAddress(mqtt.address));
  };
};

/** Where a board has to speak. Listening on all addresses stays so: only the page knows by which it was reached. */
export const doorOf = ({ mqtt }: Config, broker: Broker | undefined): BoardDoor => {
  if (mqtt.kind === 'external') {
    const { protocol, host, port } = mqtt.address;
    return { host, port, tls: protocol === 'mqtts', external: true };
  }
  const port = Number(broker?.address.split(':').at(-1) ?? mqtt.port);
  return { host: mqtt.host, port, tls: false, external: false };
};
