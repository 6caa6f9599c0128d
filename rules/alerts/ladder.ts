import type { Priority } from '../conditions/finding.js';
import type { Way } from './person.js';
import type { Hour, LadderRole, Policy } from './policy.js';

/** Where a fault stands between the people. `by`, `to` and `told` are ids of people. */
export type Standing =
  | { readonly kind: 'climbing' }
  /** Seen by somebody with the right, without a word of going: quiet until the alarm itself calls again. */
  | { readonly kind: 'acknowledged'; readonly by: string; readonly sinceMs: number; readonly untilMs?: number }
  | { readonly kind: 'going'; readonly by: string; readonly sinceMs: number; readonly untilMs: number }
  /** Stays with the giver until the other has taken it. */
  | { readonly kind: 'passing'; readonly by: string; readonly to?: string; readonly sinceMs: number }
  /** `checkMs`: when they are asked whether they are well and still there; `asked`: they were. */
  | {
      readonly kind: 'there';
      readonly by: string;
      readonly sinceMs: number;
      readonly checkMs: number;
      readonly asked: boolean;
    }
  /** `before`: how it stood, so that trouble that was gone for minutes only goes on from there. */
  | { readonly kind: 'ended'; readonly why: Ending; readonly atMs: number; readonly before?: InHand };

/** Somebody has it: nobody else is called meanwhile. */
export type InHand = Extract<Standing, { readonly kind: 'acknowledged' | 'going' | 'passing' | 'there' }>;

export type Ending = 'cleared' | 'unanswered' | 'inhibited' | 'over';

/** What a ladder sends. The words are made from the fault's own picture; here is only who, how and which step. */
export const CALL_KINDS = [
  'call',
  'again',
  'worse',
  'offered',
  'taken',
  'cleared',
  'check-in',
  'alone',
  'nobody',
] as const;
export type CallKind = (typeof CALL_KINDS)[number];

export type Call = {
  readonly atMs: number;
  readonly kind: CallKind;
  /** Unique within one run of one ladder, so that the same call is never made twice. */
  readonly label: string;
  readonly roles: readonly LadderRole[];
  readonly to: readonly string[];
  readonly ways: readonly Way[];
};

/** One fault's ladder. Plain JSON; every time in it is absolute, so that a restart goes on where it was. */
export type Ladder = {
  readonly run: number;
  readonly priority: Priority;
  readonly hour: Hour;
  readonly policy: Policy;
  readonly startedMs: number;
  /** The policy's zero; moved when a step could reach nobody, or after somebody was called again. */
  readonly baseMs: number;
  /** Which call of the policy comes next. */
  readonly next: number;
  readonly dueMs?: number;
  /** The water is well, and is said to be by then, unless it was one alarm handing over to the next. */
  readonly sayClearedMs?: number;
  readonly standing: Standing;
  readonly told: readonly string[];
  /** Counts the calls outside the policy, for their labels. */
  readonly extra: number;
  /** Of the last call: messages made, and those that could not be sent. */
  readonly last: { readonly label: string; readonly made: number; readonly failed: number };
};

/** Who there is at a moment: by role, and everybody in the order in which they are called. */
export type Roster = {
  readonly inRole: (role: LadderRole, atMs: number) => readonly string[];
  readonly order: (atMs: number) => readonly string[];
};

export type LadderStepped = { readonly ladder: Ladder; readonly calls: readonly Call[] };

/** Said with "I am going", in minutes. */
export const GOING_MINUTES = [20, 40, 60] as const;
const MINUTE_MS = 60_000;
/** After the stated time; then the same person and the next are called. */
export const GRACE_MS = 10 * MINUTE_MS;
/** How long an offer may lie before it is the giver's again. Decision of this project. */
export const OFFER_MS = 5 * MINUTE_MS;
/** Who is there is asked after this long, and looked for 10 minutes later. By night they may be alone. Decision of this project. */
export const CHECK_MS: { readonly [hour in Hour]: number } = { night: 40 * MINUTE_MS, day: 120 * MINUTE_MS };

/** Calls that are meant to wake go by everything that there is. */
export const EVERY_WAY: readonly Way[] = ['push', 'text', 'ring', 'email', 'webhook'];
/** Notes about what others did are low in noise. */
export const QUIET_WAY: readonly Way[] = ['push'];

export const isOver = ({ standing }: Ladder): boolean => standing.kind === 'ended';

/** Whether nobody has answered yet. */
export const isCalling = ({ standing }: Ladder): boolean => standing.kind === 'climbing' || standing.kind === 'passing';
