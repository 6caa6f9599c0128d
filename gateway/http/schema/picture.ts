import { PLACE_KINDS, REGIMES } from '../../../rules/place.js';
import { QUANTITIES } from '../../../rules/quantity.js';
import { STAGES } from '../../../rules/stage/stage.js';
import {
  type BedPicture,
  type BoardPicture,
  CHANNEL_STATES,
  type ChannelPicture,
  type LinkPicture,
  type NotWatched,
  type Picture,
  type PlacePicture,
  type Wants,
  type WorkPicture,
} from '../../../rules/wire/picture.js';
import { WORK_KINDS } from '../../../rules/work.js';
import { ALARM } from './alarm.js';
import { anyNumber, anyText, atMs, count, type JsonSchema, listOf, optional, shape, wordOf, yesNo } from './shape.js';

const NOT_WATCHED = [
  'no-limit',
  'muted',
  'silent',
  'probe-overdue',
  'never-seen',
] as const satisfies readonly NotWatched[];
const line = optional(anyNumber);

const WANTS = shape<Wants>({
  targetLow: line,
  targetHigh: line,
  limitLow: line,
  limitHigh: line,
  ceilingLow: line,
  ceilingHigh: line,
  confirmed: yesNo,
});

export const CHANNEL: JsonSchema = shape<ChannelPicture>({
  id: anyText,
  placeId: anyText,
  quantity: wordOf(QUANTITIES),
  position: optional(anyText),
  computed: yesNo,
  state: wordOf(CHANNEL_STATES),
  sinceMs: atMs,
  value: optional(anyNumber),
  atMs: optional(atMs),
  periodMs: optional(anyNumber),
  wants: optional(WANTS),
  notWatched: optional(wordOf(NOT_WATCHED)),
});

const WORK = shape<WorkPicture>({ id: anyText, kind: wordOf(WORK_KINDS), by: anyText, fromMs: atMs, untilMs: atMs });
const BED = shape<BedPicture>({ kind: wordOf(['sand', 'aragonite']), depthM: anyNumber, cleanedAtMs: optional(atMs) });

const PLACE = shape<PlacePicture>({
  id: anyText,
  kind: wordOf(PLACE_KINDS),
  name: anyText,
  order: anyNumber,
  lineId: optional(anyText),
  airMainId: optional(anyText),
  circuitId: optional(anyText),
  stage: optional(wordOf(STAGES)),
  stageSinceMs: optional(atMs),
  batch: optional(anyText),
  speciesGroup: optional(anyText),
  volumeL: optional(anyNumber),
  regime: optional(wordOf(REGIMES)),
  bed: optional(BED),
  work: optional(WORK),
});

export const BOARD: JsonSchema = shape<BoardPicture>({
  id: anyText,
  state: wordOf(['online', 'offline', 'unknown']),
  sinceMs: atMs,
  lastReadingMs: optional(atMs),
  malformed: count,
});

const LINK = shape<LinkPicture>({ broker: wordOf(['up', 'down']), sinceMs: atMs });

const SITE = shape<Picture['site']>({
  id: anyText,
  name: anyText,
  zone: anyText,
  temperatureUnit: wordOf(['C', 'F']),
  hours: { type: 'integer', enum: [12, 24] },
  decimalMark: optional(wordOf(['point', 'comma'])),
  demo: yesNo,
});

export const PICTURE: JsonSchema = shape<Picture>(
  {
    atMs,
    sequence: count,
    site: SITE,
    places: listOf(PLACE),
    channels: listOf(CHANNEL),
    alarms: listOf(ALARM),
    boards: listOf(BOARD),
    link: LINK,
    lastReadingMs: optional(atMs),
    unnamedSources: count,
  },
  'the whole room at one moment',
);
