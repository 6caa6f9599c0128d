import { computed, type ReadonlySignal, type Signal, signal } from '@preact/signals';
import { createContext } from 'preact';
import { useContext } from 'preact/hooks';
import type { Trails } from '../../rules/wire/api.js';
import type { Picture } from '../../rules/wire/picture.js';
import type { Reader } from '../../rules/words/language.js';
import { type Aliveness, aliveness, type FeedState } from './aliveness.js';
import { applied, openAlarms, type ServerEvent } from './live.js';
import { type Strip, stripsOf } from './strip.js';

/** Readings landed in each of the last beats, oldest first: the pulse. */
export const PULSE_LENGTH = 72;

/** What the pages of one room share. */
export type Room = {
  readonly picture: Signal<Picture | undefined>;
  readonly trails: Signal<Trails | undefined>;
  readonly feed: Signal<FeedState>;
  /** The gateway's clock as this page knows it, each second. */
  readonly nowMs: Signal<number>;
  readonly heardMs: Signal<number | undefined>;
  readonly pulse: Signal<readonly number[]>;
  readonly strips: ReadonlySignal<readonly Strip[]>;
  readonly alarms: ReadonlySignal<ReturnType<typeof openAlarms>>;
  readonly reader: ReadonlySignal<Reader>;
  readonly alive: ReadonlySignal<Aliveness>;
};

/** Before the first picture: the reader's own zone is not asked, so that nothing is shown in the wrong one. */
const NO_SITE: Reader = { zone: 'UTC', hours: 24, temperatureUnit: 'C' };

export const openRoom = (nowMs: number, first?: Picture): Room => {
  const picture = signal<Picture | undefined>(first);
  const now = signal(nowMs);
  const feed = signal<FeedState>({ kind: 'connecting', sinceMs: nowMs });
  const heardMs = signal<number | undefined>(undefined);
  const places = computed(() => picture.value?.places);
  const site = computed(() => picture.value?.site);
  return {
    picture,
    trails: signal<Trails | undefined>(undefined),
    feed,
    nowMs: now,
    heardMs,
    pulse: signal<readonly number[]>([]),
    strips: computed(() => (picture.value === undefined || places.value === undefined ? [] : stripsOf(picture.value))),
    alarms: computed(() => openAlarms(picture.value?.alarms ?? [])),
    reader: computed(() => site.value ?? NO_SITE),
    alive: computed(() => aliveness(feed.value, heardMs.value, picture.value, now.value)),
  };
};

/** Applies one word of the gateway. */
export const hear = (room: Room, event: ServerEvent): void => {
  room.picture.value = applied(room.picture.value, event);
  if (event.kind === 'life') room.heardMs.value = room.nowMs.value = event.body.nowMs;
  if (event.kind === 'hello') room.heardMs.value = room.nowMs.value = event.body.nowMs;
  if (event.kind === 'channels') room.pulse.value = [...room.pulse.value, event.body.readings].slice(-PULSE_LENGTH);
};

export const RoomContext = createContext<Room | undefined>(undefined);

export const useRoom = (): Room => {
  const room = useContext(RoomContext);
  if (room === undefined) throw new Error('A view was drawn outside of its room.');
  return room;
};
