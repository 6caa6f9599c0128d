import { FAULT_VERBS } from '../../../rules/alerts/answer.js';
import type { ToCall } from '../../../rules/alerts/numbers.js';
import { type Person, type PersonWay, WAYS } from '../../../rules/alerts/person.js';
import { LADDER_ROLES, type LadderStep, type Policies, type Policy } from '../../../rules/alerts/policy.js';
import { type Holiday, type Shift, type Swap, WATCH_ROLES, type WatchPlan } from '../../../rules/alerts/watch-plan.js';
import { PRIORITIES } from '../../../rules/conditions/finding.js';
import type {
  FaultAnswerBody,
  FaultPicture,
  LinkAnswerBody,
  LinkPicture,
  PersonPicture,
  PushSubscriptionBody,
  TriedBody,
  WatchNow,
} from '../../../rules/wire/waking.js';
import { anyText, atMs, count, type JsonSchema, listOf, optional, shape, slug, text, wordOf, yesNo } from './shape.js';

const WAKES = wordOf(['yes', 'no', 'not-tried']);
const WAY = shape<PersonWay>({ way: wordOf(WAYS), address: text(2_000, 0), wakes: WAKES, triedMs: optional(atMs) });
const person = {
  id: slug,
  name: text(60),
  account: optional(text(60)),
  manager: yesNo,
  phone: optional(text(30)),
  ways: { ...listOf(WAY), maxItems: 10 },
} as const;
export const PERSON: JsonSchema = shape<Person>(person, 'somebody who may be woken');

const PHONE = shape<PersonPicture['phones'][number]>({ endpoint: anyText, device: anyText, madeMs: atMs });
const UNREACHABLE = wordOf(['no-way', 'no-way-wakes', 'never-tried', 'drill-overdue']);
export const PERSON_PICTURE: JsonSchema = shape<PersonPicture>({
  ...person,
  version: count,
  unreachable: optional(UNREACHABLE),
  phones: listOf(PHONE),
});

const weekday: JsonSchema = { type: 'integer', minimum: 1, maximum: 7, description: '1 Monday to 7 Sunday' };
const SHIFT = shape<Shift>({
  weekday,
  fromMinute: { type: 'integer', minimum: 0, maximum: 1_439 },
  minutes: { type: 'integer', minimum: 1, maximum: 10_080 },
  role: wordOf(WATCH_ROLES),
  personId: slug,
});
const SWAP = shape<Swap>({ fromMs: atMs, toMs: atMs, role: wordOf(WATCH_ROLES), personId: slug });
const HOLIDAY = shape<Holiday>({ personId: slug, fromMs: atMs, toMs: atMs });
const minute: JsonSchema = { type: 'integer', minimum: 0, maximum: 1_440 };
export const WATCH_PLAN: JsonSchema = shape<WatchPlan>(
  {
    shifts: { ...listOf(SHIFT), maxItems: 200 },
    swaps: { ...listOf(SWAP), maxItems: 500 },
    holidays: { ...listOf(HOLIDAY), maxItems: 500 },
    dayFromMinute: minute,
    dayToMinute: minute,
    emergency: optional(shape<NonNullable<WatchPlan['emergency']>>({ name: text(60), phone: text(30) })),
    drill: optional(shape<NonNullable<WatchPlan['drill']>>({ weekday, minute })),
  },
  'who is on call, by the week of the site’s own clock',
);

const STEP = shape<LadderStep>({
  afterMs: { type: 'integer', minimum: 0, maximum: 86_400_000 },
  to: { ...listOf(wordOf(LADDER_ROLES)), minItems: 1 },
  ways: { ...listOf(wordOf(WAYS)), minItems: 1 },
});
const POLICY = shape<Policy>({
  steps: { ...listOf(STEP), minItems: 1, maxItems: 20 },
  loopFromStep: count,
  loopEveryMs: { type: 'integer', minimum: 60_000, maximum: 86_400_000 },
  stopAfterMs: { type: 'integer', minimum: 60_000, maximum: 7 * 86_400_000 },
});
const BY_PRIORITY = shape<Policies['day']>({ low: optional(POLICY), medium: optional(POLICY), high: optional(POLICY) });
export const POLICIES: JsonSchema = shape<Policies>({ day: BY_PRIORITY, night: BY_PRIORITY }, 'who is called when');

const gap = shape<WatchNow['gaps'][number]>({ fromMs: atMs, toMs: atMs });
/** By kind; codes and canonical parameters. */
const LACK: JsonSchema = {
  type: 'object',
  required: ['kind'],
  properties: { kind: anyText },
  additionalProperties: true,
};
export const WATCH_NOW: JsonSchema = shape<WatchNow>({
  onCall: listOf(anyText),
  backup: listOf(anyText),
  hour: wordOf(['day', 'night']),
  gaps: listOf(gap),
  unreachable: listOf(shape<WatchNow['unreachable'][number]>({ personId: anyText, name: anyText, why: UNREACHABLE })),
  noWayToAnswer: yesNo,
  lacks: listOf(LACK),
});

const minutes = { type: 'integer', enum: [20, 40, 60] };
/** On a screen that several people share, whoever it is says so. */
export type AnswerBody = FaultAnswerBody & { readonly by?: string };
export const FAULT_ANSWER: JsonSchema = shape<AnswerBody>({
  minutes: optional(minutes),
  to: optional(slug),
  by: optional(slug),
});
export const LINK_ANSWER: JsonSchema = shape<LinkAnswerBody>({
  token: text(2_000),
  verb: wordOf(FAULT_VERBS),
  minutes: optional(minutes),
});
export const FAULT_PICTURE: JsonSchema = shape<FaultPicture>({
  id: anyText,
  placeId: anyText,
  alarmIds: listOf(anyText),
  priority: wordOf(PRIORITIES),
  standing: wordOf(['climbing', 'acknowledged', 'going', 'passing', 'there', 'ended', 'nobody-called']),
  by: optional(anyText),
  sinceMs: atMs,
  untilMs: optional(atMs),
  dueMs: optional(atMs),
  told: listOf(anyText),
});

export const TO_CALL: JsonSchema = shape<ToCall>({ personId: optional(anyText), name: anyText, phone: anyText });
export const LINK_PICTURE: JsonSchema = shape<LinkPicture>({
  person: anyText,
  place: anyText,
  headline: anyText,
  fault: optional(FAULT_PICTURE),
  numbers: listOf(TO_CALL),
});

export const TRIED: JsonSchema = shape<TriedBody>({ way: wordOf(WAYS), wakes: WAKES });
export const PUSH_SUBSCRIPTION: JsonSchema = shape<PushSubscriptionBody>({
  endpoint: text(2_000),
  keys: shape<PushSubscriptionBody['keys']>({ p256dh: text(200), auth: text(100) }),
  device: text(60),
  personId: optional(slug),
});

/** One call or answer, as it was written down; `deed` holds codes. */
export const STORY_LINE: JsonSchema = {
  type: 'object',
  required: ['atMs', 'recordedMs', 'faultId', 'placeId', 'by', 'deed'],
  properties: {
    atMs,
    recordedMs: atMs,
    faultId: anyText,
    placeId: anyText,
    by: anyText,
    deed: { type: 'object', additionalProperties: true },
  },
};
