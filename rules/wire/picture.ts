import type { AlarmPicture } from '../alarm/alarm.js';
import type { PlaceKind, Regime } from '../place.js';
import type { Quantity } from '../quantity.js';
import type { Stage } from '../stage/stage.js';
import type { WorkKind } from '../work.js';

/** The six states that a screen always shows apart. Silent is never drawn as fine. */
export const CHANNEL_STATES = [
  'in-target',
  'outside-target',
  'outside-limit',
  'out-of-water',
  'not-plausible',
  'silent',
] as const;
export type ChannelState = (typeof CHANNEL_STATES)[number];

/** Why nobody is woken for a channel. */
export type NotWatched = 'no-limit' | 'muted' | 'silent' | 'probe-overdue' | 'never-seen';

/** What a channel wants now: target (advice), limit (alarm), ceiling (never). An absent side has no line. */
export type Wants = {
  readonly targetLow?: number;
  readonly targetHigh?: number;
  readonly limitLow?: number;
  readonly limitHigh?: number;
  readonly ceilingLow?: number;
  readonly ceilingHigh?: number;
  /** False: watched and sounding, but said to be not confirmed by the hatchery. */
  readonly confirmed: boolean;
};

export type ChannelPicture = {
  readonly id: string;
  readonly placeId: string;
  readonly quantity: Quantity;
  readonly position?: string;
  readonly computed: boolean;
  readonly state: ChannelState;
  /** When this state began. */
  readonly sinceMs: number;
  /** Last usable value, corrected, canonical unit. */
  readonly value?: number;
  /** Device time of that value. */
  readonly atMs?: number;
  readonly periodMs?: number;
  /** Lines in force; undefined when there are none. */
  readonly wants?: Wants;
  readonly notWatched?: NotWatched;
};

export type BedPicture = {
  readonly kind: 'sand' | 'aragonite';
  readonly depthM: number;
  readonly cleanedAtMs?: number;
};

export type WorkPicture = {
  readonly id: string;
  readonly kind: WorkKind;
  readonly by: string;
  readonly fromMs: number;
  readonly untilMs: number;
};

export type PlacePicture = {
  readonly id: string;
  readonly kind: PlaceKind;
  readonly name: string;
  readonly order: number;
  readonly lineId?: string;
  readonly airMainId?: string;
  readonly circuitId?: string;
  readonly stage?: Stage;
  readonly stageSinceMs?: number;
  readonly batch?: string;
  readonly speciesGroup?: string;
  readonly volumeL?: number;
  readonly regime?: Regime;
  readonly bed?: BedPicture;
  readonly work?: WorkPicture;
};

export type BoardPicture = {
  readonly id: string;
  readonly state: 'online' | 'offline' | 'unknown';
  readonly sinceMs: number;
  readonly lastReadingMs?: number;
  readonly malformed: number;
};

export type LinkPicture = {
  readonly broker: 'up' | 'down';
  readonly sinceMs: number;
};

/** The whole room at one moment, as a screen gets it on connecting. */
export type Picture = {
  readonly atMs: number;
  /** Journal sequence up to which alarms, log and settings are in this picture. */
  readonly sequence: number;
  readonly site: {
    readonly id: string;
    readonly name: string;
    readonly zone: string;
    readonly temperatureUnit: 'C' | 'F';
    readonly hours: 12 | 24;
    readonly decimalMark?: 'point' | 'comma';
    readonly demo: boolean;
  };
  readonly places: readonly PlacePicture[];
  readonly channels: readonly ChannelPicture[];
  readonly alarms: readonly AlarmPicture[];
  readonly boards: readonly BoardPicture[];
  readonly link: LinkPicture;
  readonly lastReadingMs?: number;
  /** Sources seen but not named yet. */
  readonly unnamedSources: number;
};
