import type { Site } from '../../rules/hatchery.js';
import type { Bed, OwnWants, Place, PlaceKind } from '../../rules/place.js';
import { REGIMES } from '../../rules/place.js';
import { QUANTITIES, type Quantity } from '../../rules/quantity.js';
import { SPECIES_GROUPS } from '../../rules/stage/profiles.js';
import { STAGES, type Stage } from '../../rules/stage/stage.js';
import { BED, HELD, OWN_WANTS, SITE, UPKEEP } from '../http/schema/place.js';
import {
  above,
  anyOfWords,
  count,
  type JsonSchema,
  listOf,
  optional,
  refTo,
  type SharedSchema,
  shape,
  shared,
  slug,
  text,
  within,
  wordOf,
  yesNo,
} from '../http/schema/shape.js';

/** Raised when the meaning of a key changes; a file of another number is refused with its sentence. */
export const SITE_FILE_FORMAT = 1;

/** The lists of a site file, each of one kind of place. Supplies come first: a tank names what is above it. */
export const LISTS = {
  rooms: 'room',
  circuits: 'circuit',
  airMains: 'air-main',
  intakes: 'intake',
  lines: 'line',
  baths: 'bath',
  tanks: 'tank',
} as const satisfies Readonly<Record<string, PlaceKind>>;
export type ListName = keyof typeof LISTS;
export const LIST_NAMES = Object.keys(LISTS) as readonly ListName[];

/** Keys of a place that the file has under another name. */
export const FILE_KEYS: Readonly<Record<string, string>> = {
  lineId: 'line',
  airMainId: 'airMain',
  circuitId: 'circuit',
  roomId: 'room',
  stageSinceMs: 'stageSince',
  speciesGroup: 'species',
  wants: 'limits',
  stageWants: 'limitsByStage',
};

export type FileProbe = {
  /** The source as boards send it: topic, then # and the JSON Pointer or SenML name, then @ and a stated unit. */
  readonly source: string;
  readonly quantity: Quantity;
  readonly unit: string;
  readonly position?: string;
  readonly ruling?: boolean;
  readonly periodS?: number;
  readonly slope?: number;
  readonly offset?: number;
};

type FileWants = Omit<OwnWants, 'onDelayMs' | 'offDelayMs'> & {
  readonly onDelayS?: number;
  readonly offDelayS?: number;
};

export type FileLimits = { readonly [quantity in Quantity]?: FileWants };

/** A place in the file: names without `Id`, moments as ISO 8601, delays in seconds. */
export type FilePlace = Pick<
  Place,
  | 'id'
  | 'name'
  | 'volumeL'
  | 'depthM'
  | 'regime'
  | 'flowLMin'
  | 'heaterW'
  | 'chilled'
  | 'aerated'
  | 'upkeepH'
  | 'stage'
  | 'batch'
  | 'held'
> & {
  readonly order?: number;
  readonly line?: string;
  readonly airMain?: string;
  readonly circuit?: string;
  readonly room?: string;
  readonly stageSince?: string;
  readonly species?: string;
  readonly bed?: Omit<Bed, 'cleanedAtMs'> & { readonly cleaned?: string };
  readonly limits?: FileLimits;
  /** The same for one stage alone: goes before `limits` while the tank is in that stage. */
  readonly limitsByStage?: { readonly [stage in Stage]?: FileLimits };
  readonly probes?: readonly FileProbe[];
};

export type SiteFile = { readonly format: number; readonly site: Omit<Site, 'id'> } & {
  readonly [list in ListName]?: readonly FilePlace[];
};

const MOMENT: JsonSchema = {
  type: 'string',
  pattern: '^\\d{4}-\\d{2}-\\d{2}T\\d{2}:\\d{2}(?::\\d{2}(?:\\.\\d{1,3})?)?(?:Z|[+-]\\d{2}:\\d{2})$',
  description: 'a moment in ISO 8601 with its offset, as in 2030-05-01T03:05:00-04:00',
};

const without = (
  schema: JsonSchema,
  names: readonly string[],
  more: Readonly<Record<string, JsonSchema>> = {},
): JsonSchema => {
  const properties = Object.entries({ ...(schema.properties as object), ...more }).filter(
    ([name]) => !names.includes(name),
  );
  const required = (schema.required as readonly string[]).filter((name) => !names.includes(name));
  return { ...schema, required, properties: Object.fromEntries(properties) };
};

const delay: JsonSchema = { type: 'number', minimum: 0, maximum: 86_400, description: 'seconds' };
const LIMITS = shared(
  'file-own-limits',
  without(OWN_WANTS, ['onDelayMs', 'offDelayMs'], { onDelayS: delay, offDelayS: delay }),
);

const LIMITS_BY_QUANTITY = shared('file-limits', anyOfWords(QUANTITIES, refTo(LIMITS)));

const PROBE = shape<FileProbe>({
  source: { ...text(500), description: 'topic, then # and the JSON Pointer or SenML name, then @ and a stated unit' },
  quantity: wordOf(QUANTITIES),
  unit: text(20),
  position: optional(slug),
  ruling: optional({ ...yesNo, description: 'false: a companion of the probe that speaks for the channel' }),
  periodS: optional(above(0, 86_400)),
  slope: optional(above(0, 1_000)),
  offset: optional(within(-1e6, 1e6)),
});

const PLACE = shared(
  'file-place',
  shape<FilePlace>({
    id: slug,
    name: text(60),
    order: optional({ ...count, description: 'where it stands on the wall; without it, as in this file' }),
    line: optional(slug),
    airMain: optional(slug),
    circuit: optional(slug),
    room: optional(slug),
    volumeL: optional(above(0, 10_000_000)),
    depthM: optional(above(0, 50)),
    regime: optional(wordOf(REGIMES)),
    flowLMin: optional(within(0, 1_000_000)),
    heaterW: optional(within(0, 10_000_000)),
    chilled: optional(yesNo),
    aerated: optional(yesNo),
    upkeepH: optional(UPKEEP),
    bed: optional(without(BED, ['cleanedAtMs'], { cleaned: MOMENT })),
    stage: optional(wordOf(STAGES)),
    stageSince: optional(MOMENT),
    species: optional(wordOf(SPECIES_GROUPS.map(({ id }) => id))),
    batch: optional(text(60)),
    limits: optional(refTo(LIMITS_BY_QUANTITY)),
    limitsByStage: optional(anyOfWords(STAGES, refTo(LIMITS_BY_QUANTITY))),
    held: optional(refTo(HELD)),
    probes: optional(listOf(PROBE)),
  }),
);

const places = optional(listOf(refTo(PLACE)));

const SHARED: readonly SharedSchema[] = [LIMITS, LIMITS_BY_QUANTITY, HELD, PLACE];

/** References by name, turned into references within one document. */
const bundled = (schema: unknown): unknown => {
  if (Array.isArray(schema)) return schema.map(bundled);
  if (typeof schema !== 'object' || schema === null) return schema;
  const entries = Object.entries(schema).flatMap(([key, value]) => {
    if (key === '$id') return [];
    return [[key, key === '$ref' ? `#/$defs/${String(value).replace(/#$/, '')}` : bundled(value)]];
  });
  return Object.fromEntries(entries);
};

/** For editors too: `nightwater site schema` prints it. */
export const SITE_FILE: JsonSchema = {
  $schema: 'https://json-schema.org/draft/2020-12/schema',
  title: 'Nightwater site file',
  $defs: Object.fromEntries(SHARED.map((schema) => [schema.$id, bundled(schema)])),
  ...(bundled(
    shape<SiteFile>({
      format: { type: 'integer', const: SITE_FILE_FORMAT },
      site: without(SITE, ['id']),
      rooms: places,
      circuits: places,
      airMains: places,
      intakes: places,
      lines: places,
      baths: places,
      tanks: places,
    }),
  ) as JsonSchema),
};
