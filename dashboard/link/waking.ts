import type { FaultVerb } from '../../rules/alerts/answer.js';
import type { MorningReport } from '../../rules/alerts/morning.js';
import type { ToCall } from '../../rules/alerts/numbers.js';
import type { Performance } from '../../rules/alerts/performance.js';
import type { Person, Wakes, Way } from '../../rules/alerts/person.js';
import type { Policies } from '../../rules/alerts/policy.js';
import type { Season } from '../../rules/alerts/season.js';
import type { WatchPlan } from '../../rules/alerts/watch-plan.js';
import type { Versioned } from '../../rules/wire/api.js';
import type {
  DeliveryPicture,
  DeliverySettings,
  FaultPicture,
  LinkPicture,
  PersonPicture,
  PushSubscriptionBody,
  TrialBody,
  TrialOutcome,
  WatchNow,
} from '../../rules/wire/waking.js';
import { ask } from './api.js';

const part = encodeURIComponent;

/** What the pages about waking ask of the gateway. */
export const waking = {
  faults: () => ask<readonly FaultPicture[]>('/faults'),
  answer: (
    faultId: string,
    verb: FaultVerb,
    body: { readonly minutes?: number; readonly to?: string; readonly by?: string },
  ) => ask<FaultPicture>(`/faults/${part(faultId)}/${verb}`, { method: 'POST', body }),
  answerByLink: (token: string, verb: FaultVerb, minutes?: number) =>
    ask<FaultPicture>('/answers', {
      method: 'POST',
      body: { token, verb, ...(minutes === undefined ? {} : { minutes }) },
    }),
  people: () => ask<readonly PersonPicture[]>('/people'),
  putPerson: (person: Person, version: number) =>
    ask<Versioned<Person>>(`/people/${part(person.id)}`, { method: 'PUT', body: person, ifMatch: version }),
  removePerson: (id: string) => ask<undefined>(`/people/${part(id)}`, { method: 'DELETE' }),
  numbers: () => ask<readonly ToCall[]>('/watch/numbers'),
  ladders: () => ask<Versioned<Policies>>('/ladders'),
  putLadders: (policies: Policies, version: number) =>
    ask<Versioned<Policies>>('/ladders', { method: 'PUT', body: policies, ifMatch: version }),
  delivery: () => ask<Versioned<DeliveryPicture>>('/delivery'),
  putDelivery: (settings: DeliverySettings, version: number) =>
    ask<Versioned<DeliveryPicture>>('/delivery', { method: 'PUT', body: settings, ifMatch: version }),
  trial: (body: TrialBody) => ask<TrialOutcome>('/delivery/tests', { method: 'POST', body }),
  renewPushKey: () => ask<{ readonly phones: number }>('/push/key', { method: 'POST', body: {} }),
  look: (token: string) => ask<LinkPicture>(`/answers?token=${part(token)}`),
  tried: (id: string, way: Way, wakes: Wakes) =>
    ask<Versioned<Person>>(`/people/${part(id)}/tried`, { method: 'PUT', body: { way, wakes } }),
  drill: (people?: readonly string[]) =>
    ask<{ readonly drillId: string; readonly messages: number }>('/drills', {
      method: 'POST',
      body: people === undefined ? {} : { people },
    }),
  watch: () => ask<Versioned<WatchPlan>>('/watch'),
  putWatch: (plan: WatchPlan, version: number) =>
    ask<Versioned<WatchPlan>>('/watch', { method: 'PUT', body: plan, ifMatch: version }),
  watchNow: () => ask<WatchNow>('/watch/now'),
  pushKey: () => ask<{ readonly publicKey: string }>('/push/key'),
  subscribe: (subscription: PushSubscriptionBody) =>
    ask<undefined>('/push/subscriptions', { method: 'POST', body: subscription }),
  morning: () => ask<MorningReport>('/reports/morning'),
  season: () => ask<Season>('/reports/season'),
  alarmFigures: () => ask<Performance>('/reports/alarms'),
  missed: (placeId: string, remark: string, atMs: number) =>
    ask<undefined>('/reports/missed', { method: 'POST', body: { placeId, remark, atMs } }),
  wasReal: (faultId: string, real: boolean) =>
    ask<undefined>(`/faults/${part(faultId)}/real`, { method: 'PUT', body: { real } }),
} as const;
