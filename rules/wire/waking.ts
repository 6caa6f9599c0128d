import type { FaultVerb } from '../alerts/answer.js';
import type { Lack } from '../alerts/lack.js';
import type { Ladder } from '../alerts/ladder.js';
import type { ToCall } from '../alerts/numbers.js';
import { type Person, type Unreachable, WAYS, type Wakes } from '../alerts/person.js';
import type { WatchGap } from '../alerts/watch-plan.js';
import type { Priority } from '../conditions/finding.js';

/** GET /api/v1/faults: what people are being woken for, and who has it. */
export type FaultPicture = {
  readonly id: string;
  readonly placeId: string;
  readonly alarmIds: readonly string[];
  readonly priority: Priority;
  readonly standing: Ladder['standing']['kind'] | 'nobody-called';
  /** Name of who acknowledged it, is going, is there, or passes it on. */
  readonly by?: string;
  readonly sinceMs: number;
  /** Going: back word by then. */
  readonly untilMs?: number;
  /** When the ladder does its next step. */
  readonly dueMs?: number;
  readonly told: readonly string[];
};

/** POST /api/v1/faults/{id}/{verb} */
export type FaultAnswerBody = { readonly minutes?: number; readonly to?: string };

/** POST /api/v1/answers: an answer by a signed link, from a notification or a mail. */
export type LinkAnswerBody = { readonly token: string; readonly verb: FaultVerb; readonly minutes?: number };

/** GET /api/v1/answers: what the holder of a signed link sees before they answer. */
export type LinkPicture = {
  /** Name of whom the link is for. */
  readonly person: string;
  readonly place: string;
  /** What is wrong, as it stands now. */
  readonly headline: string;
  /** Absent once it has ended. */
  readonly fault?: FaultPicture;
  /** Whom they may telephone, without themselves. */
  readonly numbers: readonly ToCall[];
};

export type PersonPicture = Person & {
  readonly version: number;
  readonly unreachable?: Unreachable;
  readonly phones: readonly { readonly endpoint: string; readonly device: string; readonly madeMs: number }[];
};

/** GET /api/v1/watch/now */
export type WatchNow = {
  readonly onCall: readonly string[];
  readonly backup: readonly string[];
  readonly hour: 'day' | 'night';
  /** Within the next seven days. */
  readonly gaps: readonly WatchGap[];
  readonly unreachable: readonly { readonly personId: string; readonly name: string; readonly why: Unreachable }[];
  /** Without an address that a phone can reach, nobody answers from outside. */
  readonly noWayToAnswer: boolean;
  /** Everything that keeps people from being woken, the worst first. */
  readonly lacks: readonly Lack[];
};

/** PUT /api/v1/people/{id}/tried: what a person says of a way after the drill. */
export type TriedBody = { readonly way: string; readonly wakes: Wakes };

/** What the browser gives for Web Push. */
export type PushSubscriptionBody = {
  readonly endpoint: string;
  readonly keys: { readonly p256dh: string; readonly auth: string };
  readonly device: string;
  readonly personId?: string;
};

/** How messages leave this site. Secrets go in and never come out. */
export type DeliverySettings = {
  readonly email?: {
    readonly host: string;
    readonly port: number;
    readonly security: 'tls' | 'starttls' | 'none';
    readonly from: string;
    readonly user?: string;
    readonly password?: string;
  };
  readonly modem?: { readonly path: string; readonly baud: number; readonly pin?: string };
  readonly webhook?: { readonly keyId: string; readonly secret?: string };
  /** `mailto:` or `https:`: whom a push service may ask. */
  readonly contact?: string;
  /** Called each minute, so that somebody outside notices when the whole site is dark. */
  readonly checkInUrl?: string;
};

/** GET /api/v1/delivery: without the secrets, but with which of them are kept. */
export type DeliveryPicture = DeliverySettings & {
  readonly kept: { readonly password: boolean; readonly secret: boolean; readonly pin: boolean };
  /** What phones subscribe with, and how many did. */
  readonly pushKey: string;
  readonly phones: number;
};

/** What can be tried at once: a way of a person, the lamp in the building, the check-in outside. */
export const TRIALS = [...WAYS, 'lamp', 'check-in'] as const;
export type Trial = (typeof TRIALS)[number];

/** POST /api/v1/delivery/tests. Of the lamp and the check-in no person. */
export type TrialBody = { readonly what: Trial; readonly personId?: string };

/** What became of it; `code` when it did not go. */
export type TrialOutcome = { readonly taken: boolean; readonly code?: string; readonly detail?: string };
