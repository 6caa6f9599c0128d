import { type AlarmPicture, alarmPicture } from '../alarm/alarm.js';
import { isOpen } from '../alarm/lifecycle.js';
import type { Bed, Place } from '../place.js';
import type { Quantity } from '../quantity.js';
import type {
  BedPicture,
  BoardPicture,
  ChannelPicture,
  NotWatched,
  PlacePicture,
  Wants,
  WorkPicture,
} from '../wire/picture.js';
import type { DeclaredWork } from '../work.js';
import { at } from './draft.js';
import type { EngineState } from './state.js';
import { wantsNow } from './view.js';

type Writable<T> = { -readonly [key in keyof T]: T[key] };

const hasLimit = (wants: Wants | undefined): boolean =>
  wants !== undefined && (wants.limitLow ?? wants.limitHigh ?? wants.ceilingLow ?? wants.ceilingHigh) !== undefined;

/** One water, two ways to say it: a limit on either watches both. */
const SAID_AS: { readonly [quantity in Quantity]?: Quantity } = {
  conductivity: 'salinity',
  'specific-conductance': 'salinity',
  'oxygen-mg-l': 'oxygen-saturation',
  'oxygen-saturation': 'oxygen-mg-l',
};

const isWatchedAs = (state: EngineState, place: number, quantity: Quantity | undefined): boolean =>
  quantity !== undefined &&
  at(state.plan.places, place).channels.some(
    (index) =>
      at(state.plan.channels, index).quantity === quantity &&
      hasLimit(wantsNow(state.plan, state.channels, index, state.nowMs)),
  );

const notWatched = (state: EngineState, index: number, wants: Wants | undefined): NotWatched | undefined => {
  const now = at(state.channels, index);
  if (now.value === undefined) return 'never-seen';
  if (now.shown?.state === 'silent') return 'silent';
  const { place, quantity } = at(state.plan.channels, index);
  return hasLimit(wants) || isWatchedAs(state, place, SAID_AS[quantity]) ? undefined : 'no-limit';
};

/** One channel as a screen gets it. */
export const channelPicture = (state: EngineState, index: number): ChannelPicture => {
  const plan = at(state.plan.channels, index);
  const now = at(state.channels, index);
  const wants = wantsNow(state.plan, state.channels, index, state.nowMs);
  const unwatched = notWatched(state, index, wants);
  const { value, atMs, periodMs, shown } = now;
  const { id, quantity, position, computed } = plan;
  const placeId = at(state.plan.places, plan.place).place.id;
  const { state: is, sinceMs } = shown ?? { state: 'silent', sinceMs: state.startedMs };
  // Filled in one by one: it is made for every channel that moves.
  const picture: Writable<ChannelPicture> = { id, placeId, quantity, computed, state: is, sinceMs };
  if (position !== undefined) picture.position = position;
  if (value !== undefined) picture.value = value;
  if (atMs !== undefined) picture.atMs = atMs;
  if (periodMs !== undefined) picture.periodMs = periodMs;
  if (wants !== undefined) picture.wants = wants;
  if (unwatched !== undefined) picture.notWatched = unwatched;
  return picture;
};

export const placePicture = (place: Place, work: readonly DeclaredWork[]): PlacePicture => {
  const {
    roomId: _room,
    depthM: _depth,
    flowLMin: _flow,
    heaterW: _heater,
    chilled: _chilled,
    upkeepH: _upkeep,
    aerated: _air,
    wants: _wants,
    bed,
    ...shown
  } = place;
  const declared = work.find(({ placeId, endedMs }) => placeId === place.id && endedMs === undefined);
  return {
    ...shown,
    ...(bed === undefined ? {} : { bed: bedPicture(bed) }),
    ...(declared === undefined ? {} : { work: workPicture(declared) }),
  };
};

const bedPicture = ({ kind, depthM, cleanedAtMs }: Bed): BedPicture => ({
  kind,
  depthM,
  ...(cleanedAtMs === undefined ? {} : { cleanedAtMs }),
});

const workPicture = ({ id, kind, by, fromMs, untilMs }: DeclaredWork): WorkPicture => ({
  id,
  kind,
  by,
  fromMs,
  untilMs,
});

/** Alarms that a person works through, or has put aside. */
export const openAlarms = ({ judgements }: EngineState): readonly AlarmPicture[] =>
  judgements.flatMap(({ alarm }) =>
    alarm !== undefined && (isOpen(alarm.life) || alarm.life.inhibits.length > 0) ? [alarmPicture(alarm)] : [],
  );

export const boardPictures = (
  { boards }: EngineState,
  malformed: ReadonlyMap<string, number>,
): readonly BoardPicture[] =>
  [...new Set([...Object.keys(boards), ...malformed.keys()])].map((id) => ({
    id,
    state: boards[id]?.state ?? 'unknown',
    sinceMs: boards[id]?.sinceMs ?? 0,
    malformed: malformed.get(id) ?? 0,
  }));
