import type { LogRecord } from '../rules/log/record.js';
import { fault, ok, type Result } from '../rules/result.js';
import { journalSentence } from '../rules/words/journal.js';
import { buildAccess } from './access/access.js';
import { leaveLocalKey } from './access/local-key.js';
import { startRounds } from './alerts/rounds.js';
import type { Waking } from './alerts/waking.js';
import { watchSite } from './alerts/watch-site.js';
import { type Clock, type Stop, systemZone } from './clock.js';
import type { Config, HostPort } from './config.js';
import { buildApp } from './http/app.js';
import type { AppParts, BoardDoor } from './http/parts.js';
import type { Broker } from './intake/delivery.js';
import type { Journal } from './journal/journal.js';
import { openJournal } from './journal/open.js';
import { retentionOf } from './journal/retention.js';
import { listenOn, listenSentence, urlOf } from './listen.js';
import { openFeed } from './live/feed.js';
import { type LogDesk, readRecord, workFor } from './log-desk.js';
import { doorOf, openBroker } from './open-broker.js';
import { type OpenHistory, openHistory } from './open-history.js';
import { buildSettingsDesk, ensureSite, loadHatchery, rulingSite } from './settings.js';
import { type LogParts, startLog } from './start-log.js';
import { readTls } from './tls.js';
import { wakeUp } from './wake-up.js';
import { buildWaking, reportsOf } from './waking-parts.js';
import { type Keeping, keepWatch } from './watchkeeper.js';

export type GatewayParts = {
  readonly config: Config;
  readonly clock: Clock;
  /** A word that changes with every build, and the version of this program. */
  readonly build: string;
  readonly version: string;
  readonly pages?: string;
  readonly say: (line: string) => void;
  /** Another site, whose Nightwater this one watches over its broker. */
  readonly watch?: { readonly site: string; readonly url: string };
  /** The demo takes the next free port, needs no sign-in, and is furnished before the engine wakes. */
  readonly demo?: { readonly furnish: (journal: Journal) => Promise<void> };
};

export type Gateway = {
  readonly journal: Journal;
  readonly keeping: Keeping;
  readonly waking: Waking;
  readonly log: LogDesk;
  readonly url: string;
  /** Where boards publish; the same program's other parts reach it here. */
  readonly broker: string;
  close(): Promise<void>;
};

const TICK_MS = 250;
const BEAT_MS = 1_000;

/** Undone in reverse order of opening. */
type Opened = { readonly closing: (() => void | Promise<void>)[] };

const closeAll = async ({ closing }: Opened): Promise<void> => {
  for (const close of closing.splice(0).reverse()) await close();
};

/** Starts everything in order, or says in one sentence why not, with nothing left open. */
export const startGateway = async (parts: GatewayParts): Promise<Result<Gateway, string>> => {
  const opened: Opened = { closing: [] };
  const started = await startAll(parts, opened);
  if (!started.ok) await closeAll(opened);
  return started;
};

const startAll = async (parts: GatewayParts, opened: Opened): Promise<Result<Gateway, string>> => {
  const { config, clock, demo, say } = parts;
  const opening = openJournal(config.dataFolder, { durability: config.durability });
  if (!opening.ok) return fault(journalSentence(opening.fault));
  const journal = opening.value;
  opened.closing.push(() => journal.close());
  await demo?.furnish(journal);
  ensureSite(journal, { name: 'My hatchery', zone: config.zone ?? systemZone(), nowMs: clock.now() });
  const past = openHistory({ config, journal, clock, say });
  opened.closing.push(past.close);
  return startOver(parts, journal, past, opened);
};

/** Everything that lives over an open journal. */
const startOver = async (
  parts: GatewayParts,
  journal: Journal,
  past: OpenHistory,
  opened: Opened,
): Promise<Result<Gateway, string>> => {
  const { config, clock, say } = parts;
  const record = readRecord(journal);
  const waking = buildWaking({ clock, config, ...past }, journal, () => keeping);
  const keeping: Keeping = startKeeping(parts, journal, record, opened, waking);
  waking.start();
  opened.closing.push(waking.close);
  if (parts.watch !== undefined) {
    opened.closing.push(watchSite({ ...parts.watch, clock, alerts: waking.alerts }));
    say(`watches the Nightwater of ${parts.watch.site} by its heartbeat`);
  }
  const log = startLog(parts, { journal, keeping, record, closing: opened.closing });
  const doorway: { broker?: Broker } = {};
  const served = await serve(
    parts,
    journal,
    keeping,
    { ...log, waking, past },
    () => doorOf(parts.config, doorway.broker),
    opened,
  );
  if (!served.ok) return served;
  const broker = await hearBoards(parts, journal, keeping, waking, opened);
  if (!broker.ok) return broker;
  doorway.broker = broker.value;
  return ok({
    journal,
    keeping,
    waking,
    log: log.log,
    url: served.value,
    broker: broker.value.address,
    close: () => closeAll(opened),
  });
};

/** From here on readings land. */
const hearBoards = async (
  { config, clock, demo, say }: GatewayParts,
  journal: Journal,
  keeping: Keeping,
  waking: Waking,
  opened: Opened,
): Promise<Result<Broker, string>> => {
  const broker = await openBroker({ config, clock, journal, keeping, say, further: demo !== undefined });
  if (!broker.ok) return broker;
  if (config.mqtt.kind === 'embedded')
    opened.closing.push(() => journal.runs.keepLink({ broker: 'down', atMs: clock.now() }));
  opened.closing.push(() => broker.value.close());
  opened.closing.push(waking.useBroker(broker.value.publish));
  say(`boards publish to ${broker.value.address}`);
  return broker;
};

const startKeeping = (
  { clock, demo }: GatewayParts,
  journal: Journal,
  record: LogRecord,
  opened: Opened,
  { alerts }: Waking,
): Keeping => {
  const nowMs = clock.now();
  const woken = wakeUp(journal, { hatchery: loadHatchery(journal, nowMs), work: workFor(record.work, nowMs), nowMs });
  const keeping = keepWatch({ journal, clock, woken, demo: demo !== undefined, guest: alerts });
  journal.runs.start(nowMs);
  const beat = (): void => {
    journal.retain(retentionOf(rulingSite(journal, clock.now()).body));
    journal.beat(clock.now());
  };
  const stops: Stop[] = [clock.every(TICK_MS, keeping.tick), clock.every(BEAT_MS, beat)];
  opened.closing.push(() => {
    for (const stop of stops) stop();
    journal.beat(clock.now());
    keeping.close();
  });
  return keeping;
};

const serve = async (
  { config, clock, demo, build, version, pages, say }: GatewayParts,
  journal: Journal,
  keeping: Keeping,
  { waking, past: { history, spool }, ...log }: LogParts & { readonly waking: Waking; readonly past: OpenHistory },
  boardDoor: () => BoardDoor,
  opened: Opened,
): Promise<Result<string, string>> => {
  const tls = readTls(config);
  if (!tls.ok) return tls;
  const key = leaveLocalKey(config.dataFolder, { url: '' });
  opened.closing.push(key.takeAway);
  const access = buildAccess({ journal, now: clock.now, demo: demo !== undefined, localToken: key.token });
  const reports = reportsOf(journal, keeping, log.log, history, clock, waking);
  const { alerts, checkIn, desk } = waking;
  const drill = (by: string): void => void desk.drill(by, undefined);
  opened.closing.push(startRounds({ journal, clock, alerts, reports, state: keeping.state, checkIn, drill }));
  const app: AppParts = {
    clock,
    journal,
    history,
    access,
    boardDoor,
    version,
    build,
    watchkeeper: keeping,
    ...log,
    waking: { ...waking, reports },
    desk: buildSettingsDesk({ journal, watchkeeper: keeping, now: clock.now }),
    complain: (what, error) =>
      say(`${what}: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}`),
    ...(spool === undefined ? {} : { spool }),
    ...(config.publicUrl === undefined ? {} : { publicUrl: config.publicUrl }),
    ...(tls.value === undefined ? {} : { tls: tls.value }),
    ...(pages === undefined ? {} : { pages }),
  };
  const server = await buildApp(app);
  const feed = openFeed(server.server, app);
  opened.closing.push(async () => {
    await feed.close();
    await server.close();
  });
  const open = async (at: HostPort): Promise<number> => {
    await server.listen(at);
    const [address] = server.addresses();
    return typeof address === 'object' ? address.port : at.port;
  };
  const listening = await listenOn(open, config.http, { further: demo !== undefined });
  if (!listening.ok) return fault(listenSentence(listening.fault));
  const url = urlOf(listening.value, tls.value !== undefined);
  leaveLocalKey(
    config.dataFolder,
    { url, ...(tls.value === undefined ? {} : { certificate: tls.value.cert }) },
    key.token,
  );
  return ok(config.publicUrl ?? url);
};
