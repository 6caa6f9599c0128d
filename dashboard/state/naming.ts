import type { NameSource } from '../../rules/wire/api.js';
import type { PlacePicture } from '../../rules/wire/picture.js';

const matching = (text: string, places: readonly PlacePicture[]): PlacePicture | undefined => {
  const wanted = text.trim().toLowerCase();
  return places.find(({ name }) => name.toLowerCase() === wanted) ?? places.find(({ id }) => id === wanted);
};

/** The place that a person typed: one that is there, by its name in any case or its id, else a new one of that name. */
export const nameFrom = (text: string, places: readonly PlacePicture[]): NameSource['place'] => {
  const known = matching(text, places);
  return known === undefined ? { name: text.trim() } : { id: known.id };
};

/** The name of the place that would be added; undefined when it is there already or nothing was typed. */
export const newPlaceName = (text: string, places: readonly PlacePicture[]): string | undefined =>
  text.trim() === '' || matching(text, places) !== undefined ? undefined : text.trim();
