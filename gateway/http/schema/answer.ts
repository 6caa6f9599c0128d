import type { Calibration, Mapping } from '../../../rules/hatchery.js';
import { QUANTITIES } from '../../../rules/quantity.js';
import {
  type ChannelReadings,
  GAP_REASONS,
  type Gap,
  type MalformedPicture,
  type NameSource,
  type NewCalibration,
  type Problem,
  type SitePicture,
  type SourcePicture,
  type Trails,
  type Versioned,
} from '../../../rules/wire/api.js';
import { PLACE, SITE } from './place.js';
import {
  above,
  anyNumber,
  anyText,
  atMs,
  count,
  type JsonSchema,
  listOf,
  nullable,
  optional,
  refTo,
  shape,
  slug,
  text,
  within,
  wordOf,
  yesNo,
} from './shape.js';

type ProblemFault = NonNullable<Problem['faults']>[number];

export const PROBLEM: JsonSchema = shape<Problem>(
  {
    type: anyText,
    title: anyText,
    status: { type: 'integer' },
    detail: { ...anyText, description: 'the sentence for a person' },
    fault: { ...anyText, description: 'our code, never reused' },
    faults: optional(listOf(shape<ProblemFault>({ pointer: anyText, detail: anyText }))),
  },
  'RFC 9457 problem details',
);

const GAP = shape<Gap>({ fromMs: atMs, toMs: atMs, reason: wordOf(GAP_REASONS) });
const column = listOf(nullable('number'));

export const READINGS: JsonSchema = shape<ChannelReadings>({
  channelId: anyText,
  quantity: wordOf(QUANTITIES),
  unit: anyText,
  fromMs: atMs,
  toMs: atMs,
  bucketMs: { ...count, description: '0: the readings themselves' },
  atMs: listOf(atMs),
  min: column,
  mean: column,
  max: column,
  usable: listOf(within(0, 1)),
  gaps: listOf(GAP),
});

export const TRAILS: JsonSchema = shape<Trails>({
  fromMs: atMs,
  toMs: atMs,
  stepMs: count,
  trails: { type: 'object', additionalProperties: column },
});

export const MAPPING = shape<Mapping>({
  sourceId: count,
  channelId: anyText,
  unit: anyText,
  fromMs: atMs,
  toMs: optional(atMs),
  ruling: yesNo,
  periodMs: optional(anyNumber),
  board: optional(anyText),
});

const SUGGESTION = shape<NonNullable<SourcePicture['suggestion']>>({
  tank: optional(anyText),
  quantity: optional(wordOf(QUANTITIES)),
  unit: optional(anyText),
});

export const SOURCE: JsonSchema = shape<SourcePicture>({
  id: count,
  key: anyText,
  topic: anyText,
  pointer: optional(anyText),
  board: optional(anyText),
  statedUnit: optional(anyText),
  firstSeenMs: atMs,
  lastSeenMs: optional(atMs),
  lastValue: optional(anyNumber),
  readings: count,
  mapping: optional(MAPPING),
  suggestion: optional(SUGGESTION),
});

export const MALFORMED: JsonSchema = shape<MalformedPicture>({
  atMs,
  topic: anyText,
  board: optional(anyText),
  code: anyText,
  sentence: anyText,
  start: { ...anyText, description: 'the first bytes, as text where they are text, else in hexadecimal' },
  bytes: count,
});

const versioned = (body: JsonSchema): JsonSchema =>
  shape<Versioned<unknown>>({ version: count, effectiveMs: atMs, recordedMs: atMs, body });

export const VERSIONED_PLACE = versioned(refTo(PLACE));
export const VERSIONED_SITE = versioned(SITE);
export const SITE_PICTURE: JsonSchema = shape<SitePicture>({ site: VERSIONED_SITE, places: listOf(VERSIONED_PLACE) });

type ById = Extract<NameSource['place'], { id: string }>;
type ByName = Extract<NameSource['place'], { name: string }>;

export const NAME_SOURCE: JsonSchema = shape<NameSource>({
  place: {
    type: 'object',
    oneOf: [shape<ById>({ id: slug }), shape<ByName>({ name: text(60), lineId: optional(slug) })],
  },
  quantity: wordOf(QUANTITIES),
  position: optional(slug),
  unit: text(20),
  fromMs: optional(atMs),
  ruling: optional(yesNo),
});

export const NEW_CALIBRATION: JsonSchema = shape<NewCalibration>({
  slope: above(0, 1000),
  offset: within(-1e6, 1e6),
  fromMs: optional(atMs),
});
export const CALIBRATION: JsonSchema = shape<Calibration>({
  sourceId: count,
  fromMs: atMs,
  slope: anyNumber,
  offset: anyNumber,
  by: optional(anyText),
});
