import type { Alarm } from '../alarm/alarm.js';
import type { Memory } from '../conditions/condition.js';
import type { Finding } from '../conditions/finding.js';
import type { Forecast } from '../conditions/forecast.js';
import type { Hatchery } from '../hatchery.js';
import type { QualityMemory } from '../quality/judge.js';
import type { QualitySettings } from '../quality/settings.js';
import type { Behind } from '../time/behind.js';
import type { DeclaredWork } from '../work.js';
import { type DueTree, dueTreeOf } from './due.js';
import { type BoardNow, type ChannelNow, inFull, type PlaceNow, type Presence } from './now.js';
import { type Plan, planFor } from './plan.js';

/** Raised when the meaning of a snapshot changes: another version is rebuilt from kept readings. */
export const STATE_VERSION = 2;

/** What is known of one mapped source. */
export type ProbeNow = {
  /** Device time of its newest reading. */
  readonly newestMs?: number | undefined;
  readonly newestRaw?: number | undefined;
  readonly quality: QualityMemory;
  /** Learned from the spacing of stamps; undefined until three intervals were seen. */
  readonly periodMs?: number | undefined;
  readonly intervals: readonly number[];
  /** Board stamps are being refused since then. */
  readonly clockWrongMs?: number | undefined;
  /** Its board's stamps fell back, and are believed no more once that is sure. */
  readonly behind?: Behind | undefined;
};

/** One condition at one subject. Times are device times; `lagMs` turns them into the gateway's. */
export type JudgementNow = {
  /** The comparator's word, and since when. */
  readonly raw: boolean;
  readonly rawMs: number;
  /** After the delays. */
  readonly on: boolean;
  readonly lagMs: number;
  readonly dueMs?: number | undefined;
  readonly finding?: Finding | undefined;
  readonly memory?: Memory | undefined;
  readonly alarm?: Alarm | undefined;
};

/** All fields in one order, those without a value too: objects of one form are several times cheaper to copy. */
export const judgementInFull = ({
  raw,
  rawMs,
  on,
  lagMs,
  dueMs,
  finding,
  memory,
  alarm,
}: JudgementNow): JudgementNow => ({
  raw,
  rawMs,
  on,
  lagMs,
  dueMs,
  finding,
  memory,
  alarm,
});

/** Everything the engine knows. Never changed in place; all of it but what is derived is plain JSON. */
export type EngineState = {
  readonly nowMs: number;
  readonly startedMs: number;
  readonly hatchery: Hatchery;
  readonly plan: Plan;
  readonly probes: readonly ProbeNow[];
  readonly channels: readonly ChannelNow[];
  readonly places: readonly PlaceNow[];
  readonly judgements: readonly JudgementNow[];
  readonly boards: Readonly<Record<string, BoardNow>>;
  readonly link: { readonly broker: 'up' | 'down'; readonly sinceMs: number };
  readonly work: readonly DeclaredWork[];
  readonly presence?: Presence;
  /** Times of harm that were given out, until their time has passed and they are scored. */
  readonly forecasts: readonly Forecast[];
  readonly lastReadingMs?: number;
  /** No deadline is due before this. */
  readonly nextDueMs: number;
  /** Derived: the deadlines of the judgements, the earliest first. */
  readonly due: DueTree;
  /** Derived: by probe, its settings for the period that was learned. */
  readonly learned?: readonly (QualitySettings | undefined)[] | undefined;
};

const NEVER_MS = Number.MAX_SAFE_INTEGER;

export const emptyState = (hatchery: Hatchery, atMs: number): EngineState => ({
  nowMs: atMs,
  startedMs: atMs,
  hatchery: { ...hatchery, places: [], mappings: [], calibrations: [] },
  plan: planFor({ ...hatchery, places: [], mappings: [], calibrations: [] }, atMs),
  probes: [],
  channels: [],
  places: [],
  judgements: [],
  boards: {},
  link: { broker: 'down', sinceMs: atMs },
  work: [],
  forecasts: [],
  nextDueMs: NEVER_MS,
  due: dueTreeOf([]),
});

type Snapshot = Omit<EngineState, 'plan' | 'due' | 'learned'> & { readonly version: number };

export const makeSnapshot = ({ plan: _plan, due: _due, learned: _learned, ...rest }: EngineState): string =>
  JSON.stringify({ version: STATE_VERSION, ...rest } satisfies Snapshot);

/** The inverse of `makeSnapshot`; undefined for a snapshot of another version. */
export const parseSnapshot = (text: string): EngineState | undefined => {
  const { version, ...rest } = JSON.parse(text) as Snapshot;
  if (version !== STATE_VERSION) return undefined;
  return {
    ...rest,
    plan: planFor(rest.hatchery, rest.nowMs),
    channels: rest.channels.map(inFull),
    judgements: rest.judgements.map(judgementInFull),
    due: dueTreeOf(rest.judgements.map(({ dueMs }) => dueMs)),
  };
};

export { NEVER_MS };
