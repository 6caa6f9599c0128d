import { SPECIES_GROUPS, type SpeciesGroupId } from '../stage/profiles.js';
import { STAGES, type Stage } from '../stage/stage.js';
import { choice, type Field, type FieldsValue, fieldsOf, listOf, maybe, number, text, whole } from './field.js';

/** Fields that many entries share. */
const SLUG = /^[a-z0-9]+(?:-[a-z0-9]+)*$/;
export const placeId = text(40, SLUG);

/** A batch is called as the hatchery calls it: `M26-07`, `spring-2`. */
export const BATCH_NAME = /^[A-Za-z0-9](?:[A-Za-z0-9.+-]*[A-Za-z0-9])?$/;
export const batchId = text(40, BATCH_NAME);

export const atMs = whole(946_684_800_000, 253_402_300_799_999, 'ms');
export const words = text(2000);
export const line = text(200);
export const animals = whole(0, 1_000_000_000_000, 'animals');
export const someAnimals = whole(1, 1_000_000_000_000, 'animals');
export const temperatureC = number(-2, 45, '°C');
export const salinity = number(0, 50, '1');
export const cellsMl = number(0, 1e10, 'cells/mL');
export const volumeL = number(0.001, 10_000_000, 'L');
export const sharePct = number(0, 100, '%');
export const ulid = text(26, /^[0-7][0-9A-HJKMNP-TV-Z]{25}$/);

export const speciesGroup: Field<SpeciesGroupId> = choice(SPECIES_GROUPS.map(({ id }) => id));
export type InhabitedStage = Exclude<Stage, 'empty'>;
const isInhabited = (stage: Stage): stage is InhabitedStage => stage !== 'empty';
export const stage: Field<InhabitedStage> = choice(STAGES.filter(isInhabited));

/** A count: subsamples of a volume, or a number with its own interval, or a bare number. */
const COUNT = {
  counts: maybe(listOf(whole(0, 1_000_000, 'counted'), 1, 1000)),
  subsampleMl: maybe(number(0.0001, 1_000_000, 'mL')),
  totalL: maybe(number(0.001, 10_000_000, 'L')),
  animals: maybe(animals),
  low: maybe(animals),
  high: maybe(animals),
} as const;
export const count = fieldsOf(COUNT);
export type CountFields = FieldsValue<typeof COUNT>;
