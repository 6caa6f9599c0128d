import { isDeepStrictEqual } from 'node:util';
import { fault, ok, type Result } from '../../rules/result.js';
import type { Versioned } from '../../rules/wire/api.js';
import type { DeliveryPicture, DeliverySettings, TrialBody, TrialOutcome } from '../../rules/wire/waking.js';
import type { Reader } from '../../rules/words/language.js';
import { noticeWords } from '../../rules/words/notice.js';
import type { Journal } from '../journal/journal.js';
import { callOnce } from './check-in.js';
import { DELIVERY, peopleAt } from './people.js';
import { deliveryFaults } from './waking-check.js';
import { accepted, dead, type Outcome, type Senders } from './way.js';
import { type Latest, type Put, unfit, type WakingFault, type Writing, type Written } from './writing.js';

export type DeliveryParts = {
  readonly journal: Pick<Journal, 'settings' | 'pushSubscriptions'>;
  readonly now: () => number;
  readonly senders: Senders;
  readonly reader: () => Reader;
  readonly pushKey: () => string;
  /** Another key at push services; every phone has to subscribe again. */
  readonly renewPushKey: () => void;
  /** Lets the lamp in the building sound for a moment; false when no broker is there. */
  readonly tryLamp: () => Promise<boolean>;
};

/** How messages leave this site, and a try of each way at once. */
export type DeliveryDesk = {
  delivery(): Versioned<DeliveryPicture>;
  /** A secret that is left out stays as it was, for the same server, card or key. */
  putDelivery(settings: DeliverySettings, writing: Writing): Written<DeliveryPicture>;
  /** Sends one test now, by what is set, and waits for what becomes of it. */
  trial(body: TrialBody, by: string): Promise<Result<TrialOutcome, WakingFault>>;
  /** How many phones have to subscribe again. */
  renewPush(): number;
};

type Parts = DeliveryParts & { readonly put: Put; readonly latest: Latest };

export const buildDeliveryDesk = (parts: Parts): DeliveryDesk => {
  const { put, latest, journal, now } = parts;
  const stored = (): Versioned<DeliverySettings> => latest<DeliverySettings>(DELIVERY, DELIVERY, {});
  const phones = (): readonly { readonly endpoint: string }[] =>
    peopleAt(journal, now()).flatMap(({ id }) => journal.pushSubscriptions.of(id));
  const pictured = (row: Versioned<DeliverySettings>): Versioned<DeliveryPicture> => ({
    ...row,
    body: {
      ...withoutSecrets(row.body),
      kept: {
        password: row.body.email?.password !== undefined,
        secret: row.body.webhook?.secret !== undefined,
        pin: row.body.modem?.pin !== undefined,
      },
      pushKey: parts.pushKey(),
      phones: phones().length,
    },
  });
  return {
    delivery: () => pictured(stored()),
    putDelivery: (settings, writing) => {
      const whole = withKeptSecrets(settings, stored().body);
      const done = unfit(deliveryFaults(settings, whole)) ?? put(DELIVERY, DELIVERY, whole, writing);
      return done.ok ? ok(pictured(done.value)) : done;
    },
    trial: async (body, by) => {
      const { what, personId } = body;
      if (what === 'lamp') return ok(told((await parts.tryLamp()) ? accepted() : dead('lamp-away')));
      if (what === 'check-in') {
        const { checkInUrl } = stored().body;
        return ok(told(checkInUrl === undefined ? dead('not-set-up') : await callOnce(checkInUrl)));
      }
      const person = peopleAt(journal, now()).find(({ id }) => id === personId);
      if (person === undefined) return fault({ code: 'no-such-person', id: personId ?? '' });
      const way = person.ways.find((one) => one.way === what);
      if (way === undefined) return fault({ code: 'no-such-way', way: what });
      return ok(told(await send(parts, { ...way, personId: person.id }, by)));
    },
    renewPush: () => {
      const ended = phones();
      for (const { endpoint } of ended) journal.pushSubscriptions.end(endpoint, now(), 'new key');
      parts.renewPushKey();
      return ended.length;
    },
  };
};

type Aim = { readonly way: keyof Senders; readonly address: string; readonly personId: string };

/** As a drill goes, but at once, past the outbox: who presses the button waits for the answer. */
const send = async ({ senders, now, reader }: Parts, { way, address, personId }: Aim, by: string): Promise<Outcome> => {
  const atMs = now();
  const key = `test-${atMs.toString(36)}`;
  const notice = { kind: 'drill', atMs, key, drillId: key, by } as const;
  const words = noticeWords(notice, reader());
  const message = {
    key: `${key}|${personId}|${way}`,
    personId,
    address,
    notice,
    words,
    isCall: true,
    subject: key,
    atMs,
  };
  return (await senders[way]?.(message)) ?? dead('not-set-up');
};

const told = (outcome: Outcome): TrialOutcome => {
  const { detail } = outcome;
  const said = detail === undefined ? {} : { detail };
  return outcome.kind === 'accepted' ? { taken: true, ...said } : { taken: false, code: outcome.code, ...said };
};

const withoutSecrets = ({ email, webhook, modem, ...rest }: DeliverySettings): DeliverySettings => {
  const { password: _password, ...mail } = email ?? {};
  const { secret: _secret, ...hook } = webhook ?? {};
  const { pin: _pin, ...line } = modem ?? {};
  return {
    ...rest,
    ...(email === undefined ? {} : { email: mail as NonNullable<DeliverySettings['email']> }),
    ...(webhook === undefined ? {} : { webhook: hook as NonNullable<DeliverySettings['webhook']> }),
    ...(modem === undefined ? {} : { modem: line as NonNullable<DeliverySettings['modem']> }),
  };
};

/** Only for the same server and account: a password is never sent to another one, nor a PIN to another card. */
const withKeptSecrets = (wanted: DeliverySettings, before: DeliverySettings): DeliverySettings => {
  const { email, webhook, modem } = wanted;
  const isSame = isDeepStrictEqual(
    [email?.host, email?.port, email?.user],
    [before.email?.host, before.email?.port, before.email?.user],
  );
  const password = email?.password ?? (isSame ? before.email?.password : undefined);
  const secret = webhook?.secret ?? (webhook?.keyId === before.webhook?.keyId ? before.webhook?.secret : undefined);
  const pin = modem?.pin ?? (modem?.path === before.modem?.path ? before.modem?.pin : undefined);
  return {
    ...wanted,
    ...(email === undefined ? {} : { email: { ...email, ...(password === undefined ? {} : { password }) } }),
    ...(webhook === undefined ? {} : { webhook: { ...webhook, ...(secret === undefined ? {} : { secret }) } }),
    ...(modem === undefined ? {} : { modem: { ...modem, ...(pin === undefined ? {} : { pin }) } }),
  };
};
