import { failingWays, type Lack, type Tried, unansweredDrills } from '../../rules/alerts/lack.js';
import { type Person, unreachable, type Way } from '../../rules/alerts/person.js';
import { watchGaps } from '../../rules/alerts/watch-plan.js';
import type { DeliverySettings } from '../../rules/wire/waking.js';
import type { Journal } from '../journal/journal.js';
import type { CheckIn } from './check-in.js';
import { deliveryAt, peopleAt, watchAt } from './people.js';

export type LackParts = {
  readonly journal: Pick<Journal, 'settings' | 'pushSubscriptions' | 'wakings' | 'outbox'>;
  readonly now: () => number;
  readonly zone: () => string;
  readonly canAnswerOutside: boolean;
  readonly checkIn: () => CheckIn | undefined;
  /** Since when a history database elsewhere takes nothing. */
  readonly historyAwaySinceMs?: () => number | undefined;
};

/** What is written down of drills stands under this, as under a fault. */
export const DRILL = 'drill';
const WEEK_MS = 7 * 24 * 3_600_000;
const DAY_MS = 24 * 3_600_000;
/** What waits is safe for now; a restart of the database is no news. Decision of this project. */
const LONG_AWAY_MS = 6 * 3_600_000;

/** Everything that keeps people from being woken, the worst first. */
export const lacksOf = (parts: LackParts): readonly Lack[] => {
  const { journal, now, zone, canAnswerOutside, checkIn, historyAwaySinceMs } = parts;
  const atMs = now();
  const people = peopleAt(journal, atMs);
  const gaps = watchGaps(watchAt(journal, atMs), people, { fromMs: atMs, toMs: atMs + WEEK_MS }, zone());
  const failingMs = checkIn()?.failingSinceMs();
  const awayMs = historyAwaySinceMs?.();
  return [
    ...(people.length === 0 ? [{ kind: 'no-people' } as const] : []),
    ...gaps.slice(0, 1).map((gap) => ({ kind: 'nobody-on-call', ...gap }) as const),
    ...(failingMs === undefined ? [] : [{ kind: 'check-in-fails', sinceMs: failingMs } as const]),
    ...failingWays(triesOf(journal, atMs)),
    ...notSetUp(people, deliveryAt(journal, atMs)),
    ...people.flatMap((person) => lacksOfPerson(parts, person, atMs)),
    ...unansweredDrills(people, drilledOf(journal), atMs),
    ...(awayMs === undefined || atMs - awayMs < LONG_AWAY_MS
      ? []
      : [{ kind: 'history-away', sinceMs: awayMs } as const]),
    ...(canAnswerOutside ? [] : [{ kind: 'no-answer-outside' } as const]),
  ];
};

const lacksOfPerson = ({ journal }: LackParts, person: Person, atMs: number): readonly Lack[] => {
  const { id: personId, name, ways } = person;
  const why = unreachable(person, atMs);
  const hasPush = ways.some(({ way }) => way === 'push');
  return [
    ...(why === undefined ? [] : [{ kind: 'unreachable', personId, name, why } as const]),
    ...(hasPush && journal.pushSubscriptions.of(personId).length === 0
      ? [{ kind: 'no-phone', personId, name } as const]
      : []),
  ];
};

const NEEDS: { readonly [way in Way]: (set: DeliverySettings) => boolean } = {
  push: () => true,
  email: ({ email }) => email !== undefined,
  text: ({ modem }) => modem !== undefined,
  ring: ({ modem }) => modem !== undefined,
  webhook: ({ webhook }) => webhook?.secret !== undefined,
};

const notSetUp = (people: readonly Person[], set: DeliverySettings): readonly Lack[] =>
  (Object.keys(NEEDS) as Way[]).flatMap((way) => {
    const names = people.filter(({ ways }) => ways.some((one) => one.way === way)).map(({ name }) => name);
    return names.length === 0 || NEEDS[way](set) ? [] : [{ kind: 'way-not-set-up', way, names }];
  });

const drilledOf = ({ wakings }: LackParts['journal']) =>
  wakings.ofFault(DRILL).flatMap(({ atMs, deed }) => {
    if (deed.what !== 'drilled') return [];
    const { personId, ways } = deed;
    return [{ atMs, personId, ways }];
  });

/** What is a person's own affair, as a phone that never subscribed, is no fault of the way. */
const OWN = ['no-subscription', 'subscription-gone', 'address-unusable', 'not-set-up', 'modem-busy'];

const triesOf = ({ outbox }: LackParts['journal'], nowMs: number): readonly Tried[] =>
  outbox.tries(nowMs - DAY_MS).filter(({ code }) => code === undefined || !OWN.includes(code));
