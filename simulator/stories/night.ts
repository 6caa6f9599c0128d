import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { clockWords } from '../../rules/words/clock.js';
import { type MailServer, openMailServer } from '../peers/mail-server.js';
import { openPushEndpoint, type PushEndpoint } from '../peers/push-endpoint.js';
import { openScriptedModem, type ScriptedModem } from '../peers/scripted-modem.js';
import { furnish, MODEM_BAUD, PEOPLE, WATER } from './night-furnish.js';
import { type NightGateway, startNightGateway } from './night-gateway.js';
import { type NightWater, nightWater } from './night-water.js';

/** Clock times of what came, by the site's own clock; undefined: it never came. */
export type NightStory = {
  readonly pushAt?: string;
  readonly emailAt?: string;
  readonly textAt?: string;
  readonly ringAt?: string;
  readonly secondPersonAt?: string;
  readonly acknowledgedAt?: string;
  readonly calledAgainAt?: string;
  readonly ladderStopped: boolean;
  readonly journalEntries: number;
};

const READER = { zone: 'Europe/Lisbon', hours: 24, temperatureUnit: 'C' } as const;
/** 01:00 on an invented spring night; the heater's contact welds at 02:10. */
const START_MS = Date.UTC(2026, 4, 5, 0, 0);
const STICKS_MS = Date.UTC(2026, 4, 5, 1, 10);
const STEP_MS = 30_000;
const HOURS = 4;
/** She presses "I am going" so long after the second person was called, and "I am here" after she was called again. */
const AFTER_SECOND_MS = 60_000;
const AFTER_AGAIN_MS = 180_000;
/** And leaves so long after that. */
const STAYS_MS = 30 * 60_000;

const END_MS = START_MS + HOURS * 3_600_000;

type Noted = NightStory & { readonly rungWhenThere?: number };

/** What the peers have heard so far, and what the people of the story do about it. */
type Scene = {
  readonly gateway: NightGateway;
  readonly water: NightWater;
  readonly push: PushEndpoint;
  readonly mail: MailServer;
  readonly modem: ScriptedModem;
  readonly noted: Noted;
  readonly says: (atMs: number, line: string) => void;
};

/** Real parts: a gateway process, a push service, a mail server, a modem on a pseudo-terminal, a board over MQTT. */
export const tellNight = async (): Promise<{ readonly story: NightStory; readonly lines: readonly string[] }> => {
  const folder = await mkdtemp(join(tmpdir(), 'nightwater-story-'));
  const [push, mail, modem] = await Promise.all([openPushEndpoint(), openMailServer(), openScriptedModem()]);
  const gateway = await startNightGateway(folder, START_MS);
  const water = await nightWater(gateway.broker, STICKS_MS);
  const lines: string[] = [];
  const noted: Noted = { ladderStopped: false, journalEntries: 0 };
  const says = (atMs: number, line: string): void => void lines.push(`${clockWords(atMs, READER)}  ${line}`);
  try {
    await water.publish(START_MS);
    await gateway.pass(STEP_MS);
    await furnish(gateway, {
      push: push.subscription,
      mailPort: mail.port,
      modem: { path: modem.path, baud: MODEM_BAUD },
    });
    await playNight({ gateway, water, push, mail, modem, noted, says });
    const { rungWhenThere: _, ...story } = noted;
    return { story, lines };
  } finally {
    await water.close();
    await gateway.close();
    await Promise.all([push.close(), mail.close(), modem.close()]);
    await rm(folder, { recursive: true, force: true });
  }
};

const playNight = async (scene: Scene): Promise<void> => {
  const { gateway, water, modem, noted, says } = scene;
  const people = buildPeople(scene);
  let atMs = START_MS + STEP_MS;
  while (atMs < END_MS) {
    await water.publish(atMs);
    atMs = await gateway.pass(STEP_MS);
    hear(scene, atMs);
    await people(atMs);
  }
  const { faultId = '' } = lastPush(scene);
  const journal = (await gateway.ask('GET', `/faults/${encodeURIComponent(faultId)}/story`)) as readonly unknown[];
  const isCalm = noted.ladderStopped && modem.dialled.length === noted.rungWhenThere;
  says(atMs, isCalm ? 'nobody was rung after that' : 'somebody was rung after that');
  Object.assign(noted, { ladderStopped: isCalm, journalEntries: journal.length });
};

type Payload = { readonly title: string; readonly token?: string; readonly faultId?: string };

/** The newest push that was about the fault. */
const lastPush = ({ push }: Pick<Scene, 'push'>): Partial<Payload> =>
  push.received.map(({ text }) => JSON.parse(text) as Payload).findLast(({ token }) => token !== undefined) ?? {};

const first = ({ noted, says }: Scene, key: keyof NightStory, atMs: number, line: string): void => {
  if (noted[key] !== undefined) return;
  Object.assign(noted, { [key]: clockWords(atMs, READER) });
  says(atMs, line);
};

/** What has arrived since the last look. */
const hear = (scene: Scene, atMs: number): void => {
  const { push, mail, modem } = scene;
  const { title } = lastPush(scene);
  if (push.received.length > 0) first(scene, 'pushAt', atMs, `push, opened with the phone’s own key: “${title ?? ''}”`);
  if (mail.mails.length > 0) first(scene, 'emailAt', atMs, `mail to ${PEOPLE.first.name}`);
  if (modem.texts.length > 0) first(scene, 'textAt', atMs, `text message: “${modem.texts[0]?.body ?? ''}”`);
  if (modem.dialled.length > 0) first(scene, 'ringAt', atMs, `the modem rings ${modem.dialled[0] ?? ''}`);
  if (modem.dialled.includes(PEOPLE.second.phone))
    first(scene, 'secondPersonAt', atMs, `${PEOPLE.second.name} is rung, too`);
};

/** Asta wakes late, says that she goes, is slow, is called again, and is there. */
const buildPeople = (scene: Scene): ((atMs: number) => Promise<void>) => {
  const { gateway, water, modem, noted } = scene;
  const at: { second?: number; again?: number; rungWhenGoing?: number; there?: number; left?: boolean } = {};
  const answer = (verb: string, more: object = {}): Promise<unknown> =>
    gateway.ask('POST', '/answers', { token: lastPush(scene).token ?? '', verb, ...more });
  return async (atMs) => {
    if (noted.secondPersonAt !== undefined) at.second ??= atMs;
    if (at.second !== undefined && at.rungWhenGoing === undefined && atMs - at.second >= AFTER_SECOND_MS) {
      at.rungWhenGoing = modem.dialled.length;
      await answer('going', { minutes: 20 });
      first(scene, 'acknowledgedAt', atMs, 'Asta presses “I am going” in the notification: 20 minutes');
    }
    if (at.rungWhenGoing !== undefined && at.again === undefined && modem.dialled.length > at.rungWhenGoing) {
      at.again = atMs;
      first(scene, 'calledAgainAt', atMs, 'no “I am here”: she and the next are called again');
    }
    if (at.again !== undefined && !noted.ladderStopped && atMs - at.again >= AFTER_AGAIN_MS) {
      await answer('there');
      water.mend();
      Object.assign(noted, { ladderStopped: true, rungWhenThere: modem.dialled.length });
      at.there = atMs;
      scene.says(atMs, 'Asta is there, and pulls the plug of the heater');
    }
    if (at.there !== undefined && !at.left && atMs - at.there >= STAYS_MS) {
      at.left = true;
      await answer('safe');
      scene.says(atMs, 'Asta has left, and is well');
    }
  };
};

const isWhole = (story: NightStory): boolean =>
  [story.pushAt, story.emailAt, story.textAt, story.secondPersonAt, story.acknowledgedAt, story.calledAgainAt].every(
    (at) => at !== undefined,
  ) && story.ladderStopped;

export const tell = async (args: readonly string[]): Promise<{ readonly text: string; readonly ok: boolean }> => {
  const { story, lines } = await tellNight();
  const text = args.includes('--json')
    ? JSON.stringify(story, undefined, 2)
    : [
        `A night: the heater of ${WATER.tank} sticks at 02:10.`,
        ...lines,
        `${story.journalEntries} entries in the journal`,
      ].join('\n');
  return { text, ok: isWhole(story) };
};
