import type { Person, PersonWay } from '../../rules/alerts/person.js';
import type { Policies, Policy } from '../../rules/alerts/policy.js';
import type { WatchPlan } from '../../rules/alerts/watch-plan.js';
import type { DeliverySettings } from '../../rules/wire/waking.js';
import { usableUrl } from './way.js';

/** What a schema cannot see, each in a sentence that says how to mend it; empty when all fits. */
type Faults = readonly string[];

const NUMBER = /^\+[1-9]\d{5,14}$/;
const isNumber = (text: string): boolean => NUMBER.test(text.replaceAll(/[\s().-]/g, ''));
const NUMBER_FORM = 'write it with its country, as in +1 555 010 0123.';

export const personFaults = ({ ways, phone }: Person): Faults => [
  ...(phone === undefined || isNumber(phone) ? [] : [`“${phone}” is no telephone number: ${NUMBER_FORM}`]),
  ...ways.flatMap(wayFaults),
  ...(new Set(ways.map(({ way }) => way)).size === ways.length ? [] : ['Each way can be there once only.']),
];

const wayFaults = ({ way, address }: PersonWay): Faults => {
  switch (way) {
    case 'push':
      return [];
    case 'email':
      return /^\S+@\S+\.\S+$/.test(address) ? [] : [`“${address}” is no e-mail address: write one as in a@b.example.`];
    case 'text':
    case 'ring':
      return isNumber(address) ? [] : [`“${address}” is no telephone number: ${NUMBER_FORM}`];
    case 'webhook':
      return usableUrl(address) === undefined
        ? [`“${address}” cannot be called: write an https address without name and password in it.`]
        : [];
  }
};

/** Shifts, swaps and holidays of people who are there, and spans that end after they begin. */
export const watchFaults = (plan: WatchPlan, people: readonly Person[]): Faults => {
  const { shifts, swaps, holidays, dayFromMinute, dayToMinute, emergency } = plan;
  const ids = new Set(people.map(({ id }) => id));
  const named = [...shifts, ...swaps, ...holidays].map(({ personId }) => personId);
  const strangers = [...new Set(named)].filter((id) => !ids.has(id));
  return [
    ...strangers.map((id) => `“${id}” is nobody on the list of people: add them first, or choose another.`),
    ...([...swaps, ...holidays].some(({ fromMs, toMs }) => fromMs >= toMs)
      ? ['A swap or a holiday must end after it begins.']
      : []),
    ...(dayFromMinute > dayToMinute ? ['The day must begin before it ends.'] : []),
    ...(emergency === undefined || isNumber(emergency.phone)
      ? []
      : [`“${emergency.phone}” is no telephone number: ${NUMBER_FORM}`]),
  ];
};

export const policyFaults = (policies: Policies): Faults =>
  (['day', 'night'] as const).flatMap((hour) =>
    (['low', 'medium', 'high'] as const).flatMap((priority) => {
      const policy = policies[hour][priority];
      return policy === undefined ? [] : ladderFaults(policy).map((said) => `${hour}, ${priority} priority: ${said}`);
    }),
  );

const ladderFaults = ({ steps, loopFromStep, stopAfterMs }: Policy): Faults => [
  ...(steps.some(({ afterMs }, n) => n > 0 && afterMs <= (steps[n - 1]?.afterMs ?? 0))
    ? ['each step must come later than the one before it.']
    : []),
  ...(loopFromStep >= steps.length ? ['what is repeated must be one of the steps.'] : []),
  ...((steps.at(-1)?.afterMs ?? 0) >= stopAfterMs ? ['it must not stop before its last step.'] : []),
];

export const deliveryFaults = ({ email, webhook }: DeliverySettings, kept: DeliverySettings): Faults => [
  ...(email === undefined || /^[^@\s]+@[^@\s]+$|<[^@\s]+@[^@\s]+>$/.test(email.from)
    ? []
    : [`“${email.from}” is no sender: write an e-mail address, as in watch@b.example.`]),
  ...(email?.user !== undefined && kept.email?.password === undefined
    ? ['The mail server has a user and no password: write the password too.']
    : []),
  ...(webhook !== undefined && kept.webhook?.secret === undefined
    ? ['The webhook has no signing key yet: write at least 32 characters, the same as at the other end.']
    : []),
];
