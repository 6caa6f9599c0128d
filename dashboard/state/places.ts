import type { PlacePicture } from '../../rules/wire/picture.js';
import type { LogReader } from '../../rules/words/entry.js';
import { retired } from './retired.js';
import { type Room, useRoom } from './room.js';

/** What animals can be in, in the order of the wall. */
export const tanksOf = (room: Room): readonly PlacePicture[] =>
  (room.picture.value?.places ?? [])
    .filter(({ kind }) => kind === 'tank' || kind === 'bath')
    .toSorted((a, b) => (a.lineId ?? '').localeCompare(b.lineId ?? '') || a.order - b.order);

export const useTanks = (): readonly PlacePicture[] => tanksOf(useRoom());

/** How the log says places and times on this screen. */
export type { LogReader };

const nameIn = (places: readonly { readonly id: string; readonly name: string }[], id: string): string | undefined =>
  places.find((one) => one.id === id)?.name;

export const useLogReader = (): LogReader => {
  const room = useRoom();
  const places = room.picture.value?.places ?? [];
  return { ...room.reader.value, placeName: (id) => nameIn(places, id) ?? nameIn(retired.value, id) ?? id };
};
