import type { Quantity } from '../../rules/quantity.js';
import type { Reader } from '../../rules/words/language.js';
import { stageName } from '../../rules/words/name.js';
import { LOOSE, type Strip, SUPPLY } from './strip.js';

/** What of a strip does not change with its readings: it is laid out from this alone. */
export type StripShape = {
  readonly id: string;
  readonly name: string;
  /** The stage of its animals, where all its tanks hold the same. */
  readonly stage?: string;
  readonly columns: readonly Quantity[];
  readonly bed: boolean;
  readonly places: readonly { readonly id: string; readonly name: string; readonly narrow: boolean }[];
};

export const shapeOf = (strip: Strip, reader: Reader): StripShape => {
  const stages = new Set(
    strip.cells.flatMap(({ place }) => (place.stage === undefined || place.stage === 'empty' ? [] : [place.stage])),
  );
  const [only] = stages;
  return {
    id: strip.id,
    name: nameOfStrip(strip),
    ...(only === undefined || stages.size > 1 ? {} : { stage: stageName(only, reader) }),
    columns: strip.columns,
    bed: strip.cells.some(({ place }) => place.bed !== undefined),
    places: strip.cells.map(({ place }) => ({
      id: place.id,
      name: place.id === strip.id ? 'supply' : place.name,
      narrow: place.kind !== 'tank',
    })),
  };
};

/** A line by its name, or what the places have in common that belong to none. */
const nameOfStrip = ({ id, name }: Strip): string =>
  id === LOOSE ? 'Tanks without a line' : id === SUPPLY ? 'Supply and air' : name;
