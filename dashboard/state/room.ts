import { computed, type ReadonlySignal, type Signal, signal } from '@preact/signals';
import { createContext } from 'preact';
import { useContext } from 'preact/hooks';
import type { Trails } from '../../rules/wire/api.js';
import type { Picture, PlacePicture } from '../../rules/wire/picture.js';
import type { Reader } from '../../rules/words/language.js';
import { type Aliveness, aliveness, type FeedState } from './aliveness.js';
import { applied, openAlarms, type ServerEvent } from './live.js';
import { type Cell, type Strip, stripsOf, withKept } from './strip.js';

/** Values of the last hours by channel, oldest first, evenly spaced; null where there was no usable reading. */
export type TrailOf = (channelId: string) => readonly (number | null)[] | undefined;

/** Readings landed in each of the last beats, oldest first: the pulse. */
export const PULSE_LENGTH = 72;

/** What the pages of one room share. */
export type Room = {
  readonly picture: Signal<Picture | undefined>;
  readonly trails: Signal<Trails | undefined>;
  readonly trailOf: ReadonlySignal<TrailOf>;
  readonly feed: Signal<FeedState>;
  /** The gateway's clock as this page knows it, each second. */
  readonly nowMs: Signal<number>;
  readonly heardMs: Signal<number | undefined>;
  readonly pulse: Signal<readonly number[]>;
  readonly strips: ReadonlySignal<readonly Strip[]>;
  /** Every cell by its place. */
  readonly cells: ReadonlySignal<ReadonlyMap<string, Cell>>;
  readonly alarms: ReadonlySignal<ReturnType<typeof openAlarms>>;
  readonly reader: ReadonlySignal<Reader>;
  readonly alive: ReadonlySignal<Aliveness>;
};

/** Before the first picture: the reader's own zone is not asked, so that nothing is shown in the wrong one. */
const NO_SITE: Reader = { zone: 'UTC', hours: 24, temperatureUnit: 'C' };

export const openRoom = (nowMs: number, first?: Picture): Room => {
  const picture = signal<Picture | undefined>(first);
  const trails = signal<Trails | undefined>(undefined);
  const now = signal(nowMs);
  const feed = signal<FeedState>({ kind: 'connecting', sinceMs: nowMs });
  const heardMs = signal<number | undefined>(undefined);
  const all = computed(() => picture.value?.alarms ?? []);
  let before: readonly Strip[] = [];
  const strips = computed(() => {
    before = picture.value === undefined ? [] : withKept(before, stripsOf(picture.value));
    return before;
  });
  const site = computed(() => picture.value?.site);
  return {
    picture,
    trails,
    trailOf: computed<TrailOf>(() => {
      const held = trails.value?.trails;
      return (id) => held?.[id];
    }),
    feed,
    nowMs: now,
    heardMs,
    pulse: signal<readonly number[]>([]),
    strips,
    cells: computed(() => new Map(strips.value.flatMap(({ cells }) => cells.map((cell) => [cell.place.id, cell])))),
    alarms: computed(() => openAlarms(all.value)),
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

/** A place of the room by its id. */
export const placeNamed = (room: Room, id: string): PlacePicture | undefined =>
  room.cells.value.get(id)?.place ?? room.picture.value?.places.find((place) => place.id === id);

export const RoomContext = createContext<Room | undefined>(undefined);

export const useRoom = (): Room => {
  const room = useContext(RoomContext);
  if (room === undefined) throw new Error('A view was drawn outside of its room.');
  return room;
};
