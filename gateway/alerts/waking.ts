import type { AlarmPicture } from '../../rules/alarm/alarm.js';
import type { Happening } from '../../rules/engine/happening.js';
import { openAlarms } from '../../rules/engine/picture.js';
import type { EngineState } from '../../rules/engine/state.js';
import type { Clock } from '../clock.js';
import type { Broker } from '../intake/delivery.js';
import type { Journal } from '../journal/journal.js';
import type { WakingEntry } from '../journal/wakings.js';
import { type CheckIn, startCheckIn } from './check-in.js';
import { type Alerts, buildAlerts } from './desk.js';
import { buildEmail } from './email.js';
import { startHeartbeat } from './heartbeat.js';
import { buildLamp, type LampMemory } from './lamp.js';
import { buildModem } from './modem.js';
import { deliveryAt } from './people.js';
import { buildPush, makeVapidKeys, type VapidKeys } from './push.js';
import { buildWakingDesk, type WakingDesk } from './waking-desk.js';
import type { Senders } from './way.js';
import { buildWebhook } from './webhook.js';

export type WakingParts = {
  readonly journal: Journal;
  readonly clock: Clock;
  readonly site: string;
  readonly state: () => EngineState;
  readonly tell: (happening: Happening) => void;
  readonly publicUrl?: string;
  /** Since when a history database elsewhere takes nothing. */
  readonly historyAwaySinceMs?: () => number | undefined;
  readonly random?: () => number;
};

/** Everything about waking people: opened with the journal, told of the engine and the broker when they are there. */
export type Waking = {
  readonly alerts: Alerts;
  readonly desk: WakingDesk;
  /** What a browser needs to subscribe. */
  readonly pushKey: () => string;
  /** Every call and answer of one fault, in order. */
  story(faultId: string): readonly WakingEntry[];
  /** The engine is there. */
  start(): void;
  /** The broker is there: heartbeat, lamp. Returns what says goodbye to it. */
  useBroker(publish: Broker['publish']): () => Promise<void>;
  checkIn(): CheckIn | undefined;
  close(): Promise<void>;
};

const TICK_MS = 1_000;
const CONTACT = 'mailto:nightwater@localhost';

export const openWaking = (parts: WakingParts): Waking => {
  const { journal, clock, state, tell, publicUrl, random = Math.random } = parts;
  const keys = (): VapidKeys => vapidKeysOf(journal);
  const settings = () => deliveryAt(journal, clock.now());
  const senders = sendersOf(parts, keys, settings);
  const alerts = buildAlerts({
    journal,
    clock,
    random,
    state,
    senders,
    acknowledge: (alarmId, by, atMs) => tell({ kind: 'answer', atMs, alarmId, verb: 'ack', by }),
    ...(publicUrl === undefined ? {} : { publicUrl }),
  });
  let checkIn: CheckIn | undefined;
  let lampTrial: (() => Promise<boolean>) | undefined;
  const desk = buildWakingDesk({
    journal,
    alerts,
    now: clock.now,
    zone: () => state().hatchery.site.zone,
    canAnswerOutside: publicUrl?.startsWith('https:') === true,
    checkIn: () => checkIn,
    ...(parts.historyAwaySinceMs === undefined ? {} : { historyAwaySinceMs: parts.historyAwaySinceMs }),
    senders,
    reader: () => state().hatchery.site,
    pushKey: () => keys().publicKey,
    renewPushKey: () => journal.meta.set(PUSH_KEYS, JSON.stringify(makeVapidKeys())),
    tryLamp: () => lampTrial?.() ?? Promise.resolve(false),
  });
  const closing: (() => void | Promise<void>)[] = [];
  return {
    alerts,
    desk,
    pushKey: () => keys().publicKey,
    story: journal.wakings.ofFault,
    start: () => {
      alerts.start();
      closing.push(clock.every(TICK_MS, alerts.tick));
      checkIn = startCheckIn(clock, () => settings().checkInUrl);
      closing.push(checkIn.stop);
    },
    useBroker: (publish) => {
      const lamp = buildLamp(publish, parts.site, lampMemory(journal));
      const alarms = (): readonly AlarmPicture[] => openAlarms(state());
      const stopLamp = clock.every(TICK_MS, () => void lamp.show(alarms()));
      lampTrial = () => lamp.trial();
      const stopBeat = startHeartbeat({ clock, publish, site: parts.site, evaluatedMs: () => state().lastReadingMs });
      return async () => {
        stopLamp();
        await stopBeat();
      };
    },
    checkIn: () => checkIn,
    close: async () => {
      for (const close of closing.splice(0).reverse()) await close();
      await alerts.idle();
    },
  };
};

const sendersOf = (
  { journal, clock }: WakingParts,
  keys: () => VapidKeys,
  settings: () => ReturnType<typeof deliveryAt>,
): Senders => {
  const modem = buildModem(() => settings().modem);
  return {
    push: buildPush({
      keys,
      contact: () => settings().contact ?? CONTACT,
      subscriptions: journal.pushSubscriptions,
      now: clock.now,
    }),
    email: buildEmail(() => settings().email),
    text: modem.text,
    ring: modem.ring,
    webhook: buildWebhook(() => {
      const hook = settings().webhook;
      return hook?.secret === undefined ? undefined : { keyId: hook.keyId, secret: hook.secret };
    }, clock.now),
  };
};

const LAMP_TOPICS = 'lamp-topics';

const lampMemory = ({ meta }: Pick<Journal, 'meta'>): LampMemory => ({
  kept: () => JSON.parse(meta.get(LAMP_TOPICS) ?? '[]') as readonly string[],
  keep: (topics) => meta.set(LAMP_TOPICS, JSON.stringify(topics)),
});

const PUSH_KEYS = 'push-keys';

/** Made at the first start and kept: another key means subscribing every phone again. */
const vapidKeysOf = ({ meta }: Pick<Journal, 'meta'>): VapidKeys => {
  const kept = meta.get(PUSH_KEYS);
  if (kept !== undefined) return JSON.parse(kept) as VapidKeys;
  const fresh = makeVapidKeys();
  meta.set(PUSH_KEYS, JSON.stringify(fresh));
  return fresh;
};
