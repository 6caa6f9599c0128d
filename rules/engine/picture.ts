import { type AlarmPicture, alarmPicture } from '../alarm/alarm.js';
import { isOpen } from '../alarm/lifecycle.js';
import { parseChannelId } from '../channel.js';
import type { Bed, Place } from '../place.js';
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
import type { ChannelNow } from './now.js';
import type { EngineState } from './state.js';
import { wantsNow } from './view.js';

const hasLimit = (wants: Wants | undefined): boolean =>
  wants !== undefined &&
  [wants.limitLow, wants.limitHigh, wants.ceilingLow, wants.ceilingHigh].some((line) => line !== undefined);

const notWatched = (now: ChannelNow, wants: Wants | undefined): NotWatched | undefined => {
  if (now.value === undefined) return 'never-seen';
  if (now.shown?.state === 'silent') return 'silent';
  return hasLimit(wants) ? undefined : 'no-limit';
};

/** One channel as a screen gets it. */
export const channelPicture = (state: EngineState, index: number): ChannelPicture => {
  const plan = at(state.plan.channels, index);
  const now = at(state.channels, index);
  const wants = wantsNow(state.plan, state.channels, index, state.nowMs);
  const unwatched = notWatched(now, wants);
  return {
    id: plan.id,
    placeId: parseChannelId(plan.id)?.placeId ?? '',
    quantity: plan.quantity,
    ...(plan.position === undefined ? {} : { position: plan.position }),
    computed: plan.computed,
    state: now.shown?.state ?? 'silent',
    sinceMs: now.shown?.sinceMs ?? state.startedMs,
    ...(now.value === undefined ? {} : { value: now.value }),
    ...(now.atMs === undefined ? {} : { atMs: now.atMs }),
    ...(now.periodMs === undefined ? {} : { periodMs: now.periodMs }),
    ...(wants === undefined ? {} : { wants }),
    ...(unwatched === undefined ? {} : { notWatched: unwatched }),
  };
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
