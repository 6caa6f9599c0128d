import { numbersInOrder, type ToCall } from '../../rules/alerts/numbers.js';
import type { Person } from '../../rules/alerts/person.js';
import { DEFAULT_POLICIES, type Policies } from '../../rules/alerts/policy.js';
import { callOrder, NO_WATCH, type WatchPlan } from '../../rules/alerts/watch-plan.js';
import type { DeliverySettings } from '../../rules/wire/waking.js';
import type { Journal } from '../journal/journal.js';
import type { Setting } from '../journal/settings.js';

/** Names of what is set about waking, in the settings of the journal. */
export const PERSON = 'person';
export const WATCH = 'watch';
export const POLICIES = 'alert-policies';
export const DELIVERY = 'delivery';

type Part = Pick<Journal, 'settings'>;

/** A clock that was set back must not leave a site without people: then whatever was set last rules. */
const ANY_MS = Number.MAX_SAFE_INTEGER;

/** Everybody who may be woken, by name. Checked by the schema when it was written. */
export const peopleAt = ({ settings }: Part, atMs: number): readonly Person[] => {
  const ruling = settings.allRuling(PERSON, atMs);
  return (ruling.length > 0 ? ruling : settings.allRuling(PERSON, ANY_MS))
    .map(({ body }) => body as Person)
    .sort((a, b) => (a.name < b.name ? -1 : 1));
};

const bodyAt = <T>({ settings }: Part, entity: string, atMs: number): T | undefined => {
  const row: Setting | undefined = settings.ruling(entity, entity, atMs) ?? settings.latest(entity, entity);
  return row === undefined || row.body === null ? undefined : (row.body as T);
};

export const watchAt = (journal: Part, atMs: number): WatchPlan => bodyAt<WatchPlan>(journal, WATCH, atMs) ?? NO_WATCH;
/** Whom to telephone now, in the order of calling. */
export const numbersAt = (journal: Part, atMs: number, zone: string): readonly ToCall[] => {
  const people = peopleAt(journal, atMs);
  const plan = watchAt(journal, atMs);
  return numbersInOrder(callOrder(plan, people, atMs, zone), people, plan.emergency);
};
export const policiesAt = (journal: Part, atMs: number): Policies =>
  bodyAt<Policies>(journal, POLICIES, atMs) ?? DEFAULT_POLICIES;
export const deliveryAt = (journal: Part, atMs: number): DeliverySettings =>
  bodyAt<DeliverySettings>(journal, DELIVERY, atMs) ?? {};
