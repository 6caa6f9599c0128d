import type { Lack } from '../../rules/alerts/lack.js';
import type { ToCall } from '../../rules/alerts/numbers.js';
import { type Person, personBehind, unreachable, type Wakes, type Way } from '../../rules/alerts/person.js';
import { DEFAULT_POLICIES, type Policies } from '../../rules/alerts/policy.js';
import { hourOf, NO_WATCH, onWatch, type WatchPlan, watchGaps } from '../../rules/alerts/watch-plan.js';
import { fault, ok, type Result } from '../../rules/result.js';
import type { Versioned } from '../../rules/wire/api.js';
import type { PersonPicture, PushSubscriptionBody, WatchNow } from '../../rules/wire/waking.js';
import type { Journal } from '../journal/journal.js';
import { buildDeliveryDesk, type DeliveryDesk, type DeliveryParts } from './delivery-desk.js';
import type { Alerts } from './desk.js';
import { DRILL, type LackParts, lacksOf } from './lacks.js';
import { numbersAt, PERSON, POLICIES, peopleAt, WATCH, watchAt } from './people.js';
import { personFaults, policyFaults, watchFaults } from './waking-check.js';
import { type Latest, type Put, unfit, type WakingFault, type Writing, type Written } from './writing.js';

/** People, the watch and how messages leave: what is set about waking, and the drill. */
export type WakingDesk = DeliveryDesk & {
  people(): readonly PersonPicture[];
  person(id: string): Versioned<Person> | undefined;
  putPerson(person: Person, writing: Writing): Written<Person>;
  removePerson(id: string, by: string): boolean;
  /** Who signs in under this name; an account of the same name as a person is that person. */
  personOf(account: string): Person | undefined;
  watch(): Versioned<WatchPlan>;
  putWatch(plan: WatchPlan, writing: Writing): Written<WatchPlan>;
  policies(): Versioned<Policies>;
  putPolicies(policies: Policies, writing: Writing): Written<Policies>;
  watchNow(): WatchNow;
  /** Whom to telephone, in the order of calling. */
  numbers(): readonly ToCall[];
  /** What keeps people from being woken. */
  lacks(): readonly Lack[];
  subscribe(personId: string, subscription: PushSubscriptionBody): Result<undefined, WakingFault>;
  unsubscribe(endpoint: string): boolean;
  /** A test message to each person by each of their ways; how many were made. */
  drill(by: string, personIds: readonly string[] | undefined): { readonly drillId: string; readonly messages: number };
  /** What the person says of a way afterwards. */
  tried(personId: string, way: Way, wakes: Wakes, by: string): Written<Person>;
  judged(faultId: string, real: boolean, by: string): Result<undefined, { readonly code: 'no-such-fault' }>;
  missed(placeId: string, atMs: number, remark: string, by: string): void;
};

export type WakingDeskParts = LackParts &
  DeliveryParts & {
    readonly journal: Pick<Journal, 'ladders'>;
    readonly alerts: Pick<Alerts, 'post'>;
  };

const DRILL_LIVES_MS = 600_000;
const WEEK_MS = 7 * 24 * 3_600_000;

export const buildWakingDesk = (parts: WakingDeskParts): WakingDesk => {
  const { journal, now, zone } = parts;
  const put = <T>(entity: string, id: string, body: T | null, { by, expectedVersion }: Writing): Written<T> => {
    const atMs = now();
    const done = journal.settings.put({ entity, id, body, by, expectedVersion, effectiveMs: atMs, recordedMs: atMs });
    if (!done.ok) return fault({ code: 'version-changed', present: done.fault.present?.version ?? 0 });
    const { version, effectiveMs, recordedMs } = done.value.setting;
    return ok({ version, effectiveMs, recordedMs, body: body as T });
  };
  const latest = <T>(entity: string, id: string, otherwise: T): Versioned<T> => {
    const row = journal.settings.latest(entity, id);
    if (row === undefined || row.body === null)
      return { version: row?.version ?? 0, effectiveMs: 0, recordedMs: 0, body: otherwise };
    const { version, effectiveMs, recordedMs, body } = row;
    return { version, effectiveMs, recordedMs, body: body as T };
  };
  const person = (id: string): Versioned<Person> | undefined => {
    const row = journal.settings.latest(PERSON, id);
    return row === undefined || row.body === null ? undefined : latest<Person>(PERSON, id, row.body as Person);
  };
  const tried: WakingDesk['tried'] = (personId, way, wakes, by) => {
    const before = person(personId);
    if (before === undefined) return fault({ code: 'no-such-person', id: personId });
    if (!before.body.ways.some((one) => one.way === way)) return fault({ code: 'no-such-way', way });
    const ways = before.body.ways.map((one) => (one.way === way ? { ...one, wakes, triedMs: now() } : one));
    journal.wakings.add({
      atMs: now(),
      recordedMs: now(),
      faultId: DRILL,
      placeId: '',
      by,
      deed: { what: 'drill', personId, way, wakes },
    });
    return put(PERSON, personId, { ...before.body, ways }, { by, expectedVersion: before.version });
  };
  return {
    ...settingsOf(put, latest, () => peopleAt(journal, now())),
    ...buildDeliveryDesk({ ...parts, put, latest }),
    people: () => peopleAt(journal, now()).map((one) => pictureOf(one, parts)),
    person,
    putPerson: (body, writing) => unfit(personFaults(body)) ?? put(PERSON, body.id, body, writing),
    removePerson: (id, by) => {
      const before = person(id);
      return before !== undefined && put(PERSON, id, null, { by, expectedVersion: before.version }).ok;
    },
    personOf: (account) => personBehind(peopleAt(journal, now()), account),
    watchNow: () => watchNow(parts),
    numbers: () => numbersAt(journal, now(), zone()),
    lacks: () => lacksOf(parts),
    subscribe: (personId, { endpoint, keys, device }) => {
      if (person(personId) === undefined) return fault({ code: 'no-such-person', id: personId });
      journal.pushSubscriptions.put({ endpoint, personId, ...keys, device, madeMs: now() });
      return ok(undefined);
    },
    unsubscribe: (endpoint) => journal.pushSubscriptions.end(endpoint, now(), 'taken away'),
    drill: (by, personIds) => drill(parts, by, personIds),
    tried,
    judged: (faultId, real, by) => {
      const about = journal.ladders.byId(faultId);
      if (about === undefined) return fault({ code: 'no-such-fault' });
      journal.wakings.add({
        atMs: now(),
        recordedMs: now(),
        faultId,
        placeId: about.placeId,
        by,
        deed: { what: 'judged', real },
      });
      return ok(undefined);
    },
    missed: (placeId, atMs, remark, by) => {
      journal.wakings.add({
        atMs,
        recordedMs: now(),
        faultId: 'missed',
        placeId,
        by,
        deed: { what: 'missed', remark },
      });
    },
  };
};

const settingsOf = (put: Put, latest: Latest, people: () => readonly Person[]) => {
  return {
    watch: () => latest<WatchPlan>(WATCH, WATCH, NO_WATCH),
    putWatch: (plan: WatchPlan, writing: Writing): Written<WatchPlan> =>
      unfit(watchFaults(plan, people())) ?? put(WATCH, WATCH, plan, writing),
    policies: () => latest<Policies>(POLICIES, POLICIES, DEFAULT_POLICIES),
    putPolicies: (policies: Policies, writing: Writing): Written<Policies> =>
      unfit(policyFaults(policies)) ?? put(POLICIES, POLICIES, policies, writing),
  };
};

const pictureOf = (person: Person, { journal, now }: WakingDeskParts): PersonPicture => {
  const why = unreachable(person, now());
  const phones = journal.pushSubscriptions
    .of(person.id)
    .map(({ endpoint, device, madeMs }) => ({ endpoint, device, madeMs }));
  const version = journal.settings.latest(PERSON, person.id)?.version ?? 0;
  return { ...person, version, phones, ...(why === undefined ? {} : { unreachable: why }) };
};

const watchNow = (parts: WakingDeskParts): WatchNow => {
  const { journal, now, zone, canAnswerOutside } = parts;
  const atMs = now();
  const people = peopleAt(journal, atMs);
  const plan = watchAt(journal, atMs);
  const nameOf = (id: string): string => people.find((person) => person.id === id)?.name ?? id;
  return {
    onCall: onWatch(plan, 'on-call', atMs, zone()).map(nameOf),
    backup: onWatch(plan, 'backup', atMs, zone()).map(nameOf),
    hour: hourOf(plan, atMs, zone()),
    gaps: watchGaps(plan, people, { fromMs: atMs, toMs: atMs + WEEK_MS }, zone()),
    unreachable: people.flatMap((person) => {
      const why = unreachable(person, atMs);
      return why === undefined ? [] : [{ personId: person.id, name: person.name, why }];
    }),
    noWayToAnswer: !canAnswerOutside,
    lacks: lacksOf(parts),
  };
};

const drill = ({ journal, alerts, now }: WakingDeskParts, by: string, personIds: readonly string[] | undefined) => {
  const atMs = now();
  const drillId = `drill-${atMs.toString(36)}`;
  const people = peopleAt(journal, atMs).filter(
    ({ id, ways }) => ways.length > 0 && (personIds === undefined || personIds.includes(id)),
  );
  for (const { id: personId, ways } of people) {
    const deed = { what: 'drilled', personId, ways: ways.map(({ way }) => way) } as const;
    journal.wakings.add({ atMs, recordedMs: atMs, faultId: DRILL, placeId: '', by, deed });
  }
  const messages = people.flatMap(({ id: personId, ways }) =>
    ways.map(({ way }) => ({
      key: `${drillId}|${personId}|${way}`,
      faultId: drillId,
      label: 'drill',
      personId,
      way,
      // Not gathered with real calls, and each way is to be heard by itself.
      isCall: false,
      priority: 'high' as const,
      madeMs: atMs,
      expiresMs: atMs + DRILL_LIVES_MS,
      notice: { kind: 'drill' as const, atMs, key: drillId, drillId, by },
    })),
  );
  return { drillId, messages: alerts.post(messages) };
};
