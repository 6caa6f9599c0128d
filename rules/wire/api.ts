import type { Calibration, Mapping, Site, Source } from '../hatchery.js';
import type { Place } from '../place.js';
import type { Quantity } from '../quantity.js';

/** RFC 9457 problem details; `detail` is the sentence that a person sees, `fault` our code. */
export type Problem = {
  readonly type: string;
  readonly title: string;
  readonly status: number;
  readonly detail: string;
  readonly fault: string;
  /** Every fault with its place (RFC 6901 pointer) and how to mend it, where a form or file was sent. */
  readonly faults?: readonly {
    readonly pointer: string;
    readonly detail: string;
  }[];
};

export const ROLES = ['viewer', 'crew', 'manager'] as const;
export type Role = (typeof ROLES)[number];

/** Why a stretch of a trace is empty. */
export const GAP_REASONS = [
  'board-silent',
  'broker-down',
  'gateway-down',
  'out-of-water',
  'not-plausible',
  'no-source',
] as const;
export type GapReason = (typeof GAP_REASONS)[number];
export type Gap = {
  readonly fromMs: number;
  readonly toMs: number;
  readonly reason: GapReason;
};

/** GET /api/v1/channels/{id}/readings: columns, oldest first; a bucket without usable readings has nulls. */
export type ChannelReadings = {
  readonly channelId: string;
  readonly quantity: Quantity;
  readonly unit: string;
  readonly fromMs: number;
  readonly toMs: number;
  /** 0: the readings themselves (min = mean = max); else the bucket's length. */
  readonly bucketMs: number;
  readonly atMs: readonly number[];
  readonly min: readonly (number | null)[];
  readonly mean: readonly (number | null)[];
  readonly max: readonly (number | null)[];
  /** Share of the bucket's readings that are usable, 0 to 1. */
  readonly usable: readonly number[];
  readonly gaps: readonly Gap[];
};

/** GET /api/v1/trails: every channel's last hours for the wall, a column of times and one of values each. */
export type Trails = {
  readonly fromMs: number;
  readonly toMs: number;
  readonly stepMs: number;
  readonly trails: Readonly<Record<string, readonly (number | null)[]>>;
};

export type SourcePicture = Source & {
  readonly lastSeenMs?: number;
  readonly lastValue?: number;
  readonly readings: number;
  readonly mapping?: Mapping;
  /** Filled from the topic where it follows the default scheme. */
  readonly suggestion?: {
    readonly tank?: string;
    readonly quantity?: Quantity;
    readonly unit?: string;
  };
};

export type MalformedPicture = {
  readonly atMs: number;
  readonly topic: string;
  readonly board?: string;
  readonly code: string;
  readonly sentence: string;
  readonly start: string;
  readonly bytes: number;
};

/** One dated row of settings as the API gives it; `version` goes back in If-Match. */
export type Versioned<T> = {
  readonly version: number;
  readonly effectiveMs: number;
  readonly recordedMs: number;
  readonly body: T;
};

export type SitePicture = {
  readonly site: Versioned<Site>;
  readonly places: readonly Versioned<Place>[];
};
export type NameSource = {
  readonly place: { readonly id: string } | { readonly name: string; readonly lineId?: string };
  readonly quantity: Quantity;
  readonly position?: string;
  readonly unit: string;
  /** From when; without it, from the first sight of a source that was never named, else from now. */
  readonly fromMs?: number;
  /** Whether it speaks for its channel; without it, it does when no other probe that is heard does. */
  readonly ruling?: boolean;
};
/** A correction from a moment on; without one, from now. */
export type NewCalibration = Pick<Calibration, 'slope' | 'offset'> & { readonly fromMs?: number };

/** GET /api/v1/session: who this screen is signed in as, and whether anybody can sign in yet. */
export type SessionPicture = {
  /** Undefined: not signed in. */
  readonly name?: string;
  readonly role?: Role;
  /** True until the first manager is made with the one-time code that the gateway printed. */
  readonly first: boolean;
  /** The demo asks nobody to sign in. */
  readonly demo: boolean;
};

/** GET /api/v1/boards/recipe: how to point a board here, complete enough to paste. */
export type Recipe = {
  /** One reading with mosquitto_pub, host, port and credential filled in. */
  readonly publishLine: string;
  readonly host: string;
  readonly port: number;
  readonly tls: boolean;
  /** Absent where anybody on this machine may publish. */
  readonly user?: string;
  readonly topicExample: string;
  /** Where the board says that it is there: `online` retained, `offline` as its last will. */
  readonly statusTopic: string;
  /** What there is to know about the credential, in a sentence. */
  readonly remark: string;
};

/** POST /api/v1/boards: the password is told this once. */
export type AddedBoard = { readonly board: string; readonly password: string; readonly recipe: Recipe };

/** A channel of a place that is no longer watched. */
export type RetiredChannel = {
  readonly id: string;
  readonly placeId: string;
  readonly quantity: Quantity;
  readonly position?: string;
  readonly computed: boolean;
};

/** GET /api/v1/retired-places: what was taken out of use, with the channels that it ever had. */
export type RetiredPlace = Pick<Place, 'id' | 'name' | 'kind'> & {
  readonly retiredMs: number;
  readonly by: string;
  readonly channels: readonly RetiredChannel[];
};
