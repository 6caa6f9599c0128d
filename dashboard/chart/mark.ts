import type { AlarmPicture } from '../../rules/alarm/alarm.js';
import type { ChannelPicture, PlacePicture } from '../../rules/wire/picture.js';
import type { WorkKind } from '../../rules/work.js';
import { isAnswered, isLoud } from '../state/live.js';

/** The shapes of the room. Each says its state without its colour. */
export const MARKS = [
  'float',
  'ring',
  'diamond',
  'diamond-answered',
  'silent',
  'implausible',
  'lifted',
  'unwatched',
] as const;
export type Mark = (typeof MARKS)[number];

/** Colour roles of a mark: quiet things are muted, advice is ink, only what a person must answer has the alarm's colour. */
export type Tone = 'calm' | 'ink' | 'alarm' | 'muted';

export type Shape = {
  /** Path in a square of −1 to 1. */
  readonly path: string;
  readonly filled: boolean;
  readonly dashed?: boolean;
  /** Size beside a float. */
  readonly scale: number;
};

const CIRCLE = 'M1 0A1 1 0 1 1 -1 0A1 1 0 1 1 1 0Z';
const DIAMOND = 'M0 -1.2L1.2 0L0 1.2L-1.2 0Z';

export const SHAPES: { readonly [mark in Mark]: Shape } = {
  float: { path: CIRCLE, filled: true, scale: 1 },
  ring: { path: CIRCLE, filled: false, scale: 1.2 },
  diamond: { path: DIAMOND, filled: true, scale: 1.5 },
  'diamond-answered': { path: DIAMOND, filled: false, scale: 1.35 },
  silent: { path: `${CIRCLE}M-1.15 1.15L1.15 -1.15`, filled: false, scale: 1.1 },
  implausible: {
    path: `${CIRCLE}M-.32 -.3A.33 .33 0 1 1 .12 .02C0 .1 0 .14 0 .26M0 .56L0 .58`,
    filled: false,
    scale: 1.35,
  },
  lifted: { path: CIRCLE, filled: false, dashed: true, scale: 1.05 },
  unwatched: { path: 'M-1 0L1 0', filled: false, scale: 0.9 },
};

/** Work during which a tank's probes are not asked about its water. */
const LIFTING: readonly WorkKind[] = [
  'drain-down',
  'water-change',
  'filling',
  'probe-service',
  'bed-cleaning',
  'disinfection',
  'resting',
];
export const isLifted = (place: PlacePicture): boolean => place.work !== undefined && LIFTING.includes(place.work.kind);

/** How a channel is drawn; `alarm` is its worst open one. Silent and not plausible are never drawn as a value. */
export const markOf = (channel: ChannelPicture, alarm: AlarmPicture | undefined, lifted: boolean): Mark => {
  if (lifted || channel.state === 'out-of-water') return 'lifted';
  if (channel.state === 'silent') return 'silent';
  if (channel.state === 'not-plausible') return 'implausible';
  if (alarm !== undefined && isLoud(alarm)) return isAnswered(alarm) ? 'diamond-answered' : 'diamond';
  if (channel.state === 'outside-limit') return 'diamond';
  if (channel.notWatched !== undefined || channel.wants === undefined) return 'unwatched';
  return channel.state === 'outside-target' || alarm !== undefined ? 'ring' : 'float';
};

export const toneOf = (mark: Mark, alarm: AlarmPicture | undefined): Tone => {
  if (mark === 'lifted' || mark === 'unwatched') return 'muted';
  if (alarm !== undefined && isLoud(alarm)) return 'alarm';
  return mark === 'float' ? 'calm' : 'ink';
};

/** Which mark is told first where there is no room for all. */
export const urgency = (mark: Mark, tone: Tone): number => (tone === 'alarm' ? 10 : 0) + MARK_RANK[mark];
const MARK_RANK: { readonly [mark in Mark]: number } = {
  diamond: 8,
  'diamond-answered': 7,
  silent: 6,
  implausible: 5,
  ring: 4,
  lifted: 3,
  unwatched: 1,
  float: 0,
};
