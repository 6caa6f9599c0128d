/** How a person can be reached. `ring` is a call that only rings: it goes through a silenced phone where a text may not. */
export const WAYS = ['push', 'email', 'text', 'ring', 'webhook'] as const;
export type Way = (typeof WAYS)[number];
export const isWay = (text: string): text is Way => WAYS.some((way) => way === text);

/** What a person answered at the last drill: did it ring through silent? */
export type Wakes = 'yes' | 'no' | 'not-tried';

export type PersonWay = {
  readonly way: Way;
  /** E-mail address, phone number (ITU-T E.164, `+` first) or HTTPS URL; of push it is empty: the phone subscribes itself. */
  readonly address: string;
  readonly wakes: Wakes;
  readonly triedMs?: number;
};

/** Somebody who may be woken. Apart from accounts: one may be called without ever signing in. */
export type Person = {
  readonly id: string;
  readonly name: string;
  /** The name that this person signs in with; who presses a button there is this person. */
  readonly account?: string;
  /** May be called as a manager, when nobody below answered. */
  readonly manager: boolean;
  /** Where others telephone them (ITU-T E.164); without it, where they are rung or texted. */
  readonly phone?: string;
  readonly ways: readonly PersonWay[];
};

/** Who signs in under this name; an account of the same name as a person is that person. */
export const personBehind = (people: readonly Person[], account: string): Person | undefined =>
  people.find((one) => one.account === account) ?? people.find(({ name }) => name === account);

/** Whether a way is known to wake this person; what was never tried is not known to. */
export const wakingWays = ({ ways }: Person): readonly PersonWay[] => ways.filter(({ wakes }) => wakes === 'yes');

/** Asked anew after so long: phones and their settings change. The drill is weekly. Common practice, no source. */
export const DRILL_OVERDUE_MS = 8 * 24 * 3_600_000;

/** Why somebody cannot be counted on now; undefined when at least one way is known to wake them. */
export type Unreachable = 'no-way' | 'no-way-wakes' | 'never-tried' | 'drill-overdue';

export const unreachable = (person: Person, nowMs: number): Unreachable | undefined => {
  if (person.ways.length === 0) return 'no-way';
  const waking = wakingWays(person);
  if (waking.length === 0)
    return person.ways.some(({ wakes }) => wakes === 'not-tried') ? 'never-tried' : 'no-way-wakes';
  return waking.some(({ triedMs }) => triedMs !== undefined && nowMs - triedMs <= DRILL_OVERDUE_MS)
    ? undefined
    : 'drill-overdue';
};
