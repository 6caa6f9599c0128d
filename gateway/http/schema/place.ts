import { FEWEST_DAYS_KEPT, MOST_DAYS_KEPT, type Site } from '../../../rules/hatchery.js';
import {
  type Bed,
  type BedLook,
  type Course,
  type HeldLines,
  type OwnWants,
  PLACE_KINDS,
  type Place,
  REGIMES,
} from '../../../rules/place.js';
import { QUANTITIES } from '../../../rules/quantity.js';
import { STAGES } from '../../../rules/stage/stage.js';
import { TASKS } from '../../../rules/work.js';
import {
  above,
  anyNumber,
  anyOfWords,
  atMs,
  count,
  type JsonSchema,
  listOf,
  optional,
  refTo,
  shape,
  shared,
  slug,
  text,
  within,
  wordOf,
  yesNo,
} from './shape.js';

const line = optional({ ...anyNumber, description: 'in the canonical unit of the quantity' });
const delay = optional({ type: 'integer', minimum: 0, maximum: 86_400_000 });

type Schedule = Extract<Course, { kind: 'schedule' }>;
type Follows = Extract<Course, { kind: 'follows' }>;
const half = { type: 'number', exclusiveMinimum: 0, maximum: 1_000 } as const;

const COURSE: JsonSchema = {
  type: 'object',
  description: 'a target that moves: along dated points, or after a channel of another place',
  oneOf: [
    shape<Schedule>({
      kind: { type: 'string', const: 'schedule' },
      points: {
        ...listOf(shape<Schedule['points'][number]>({ atMs, target: anyNumber })),
        minItems: 2,
        maxItems: 500,
      },
      within: half,
    }),
    shape<Follows>({ kind: { type: 'string', const: 'follows' }, placeId: slug, offset: anyNumber, within: half }),
  ],
};

export const OWN_WANTS = shared(
  'own-wants',
  shape<OwnWants>(
    {
      targetLow: line,
      targetHigh: line,
      course: optional(COURSE),
      limitLow: line,
      limitHigh: line,
      ceilingLow: line,
      ceilingHigh: line,
      onDelayMs: delay,
      offDelayMs: delay,
      deadband: optional({ type: 'number', minimum: 0 }),
      confirmed: optional({ ...yesNo, description: 'the hatchery looked at these lines and stands by them' }),
      unwatched: optional({ ...yesNo, description: 'no limit is wanted here' }),
    },
    'lines over what the stage profile says: target (advice), limit (alarm), ceiling (never)',
  ),
);

const WANTS = shared('wants', anyOfWords(QUANTITIES, refTo(OWN_WANTS)));
export const HELD = shared(
  'held-lines',
  anyOfWords(QUANTITIES, shape<HeldLines>({ limitLow: line, limitHigh: line, ceilingLow: line, ceilingHigh: line })),
);

export const BED = shape<Bed>({
  kind: wordOf(['sand', 'aragonite']),
  depthM: above(0, 5),
  porosity: optional(within(0, 1)),
  grainMm: optional(above(0, 100)),
  flow: optional(wordOf(['none', 'up', 'down'])),
  cleanedAtMs: optional(atMs),
  limitDepthMm: optional(within(0, 5_000)),
  cleanDemandMmolM2Day: optional(above(0, 10_000)),
  wasteMmolCM2Day: optional(within(0, 100_000)),
  throughFlowLM2H: optional(within(0, 1_000_000)),
  calibration: optional(
    shape<NonNullable<Bed['calibration']>>({
      kind: wordOf(['core', 'black-edge']),
      depthMm: above(0, 5_000),
      atMs,
      transport: above(0, 10_000),
      pumped: yesNo,
    }),
  ),
  looks: optional(
    listOf(
      shape<BedLook>({
        atMs,
        kind: wordOf(['core', 'black-edge']),
        seenMm: above(0, 5_000),
        estimatedLowMm: within(0, 5_000),
        estimatedMm: optional(within(0, 5_000)),
        estimatedHighMm: within(0, 5_000),
      }),
    ),
  ),
});

export const UPKEEP = anyOfWords(TASKS, { ...within(0, 100_000), description: 'hours; 0 is never' });

/** Everything of a place but its id and its place on the wall. */
const common = {
  kind: wordOf(PLACE_KINDS),
  name: text(60),
  lineId: optional(slug),
  airMainId: optional(slug),
  circuitId: optional(slug),
  roomId: optional(slug),
  volumeL: optional(above(0, 10_000_000)),
  depthM: optional(above(0, 50)),
  regime: optional(wordOf(REGIMES)),
  flowLMin: optional(within(0, 1_000_000)),
  heaterW: optional(within(0, 10_000_000)),
  chilled: optional(yesNo),
  aerated: optional(yesNo),
  bed: optional(BED),
  stage: optional(wordOf(STAGES)),
  stageSinceMs: optional(atMs),
  speciesGroup: optional(text(60)),
  batch: optional(text(60)),
  wants: optional(refTo(WANTS)),
  stageWants: optional(anyOfWords(STAGES, refTo(WANTS))),
  held: optional(refTo(HELD)),
  upkeepH: optional(UPKEEP),
} as const;

export const PLACE = shared(
  'place',
  shape<Place>({ id: slug, order: count, ...common }, 'anything with water, air or power'),
);

/** Those above that others refer to by name. */
export const SHARED_SCHEMAS = [OWN_WANTS, WANTS, HELD, PLACE] as const;

/** A place that is not there yet: its id is made from its name, and it goes to the end of the wall. */
export type NewPlace = Omit<Place, 'id' | 'order'> & { readonly id?: string; readonly order?: number };
export const NEW_PLACE: JsonSchema = shape<NewPlace>({ id: optional(slug), order: optional(count), ...common });

const daysKept = { type: 'integer', minimum: FEWEST_DAYS_KEPT, maximum: MOST_DAYS_KEPT } as const;

export const SITE: JsonSchema = shape<Site>({
  id: text(60),
  name: text(60),
  zone: { ...text(60), description: 'IANA time zone, as in America/New_York' },
  temperatureUnit: wordOf(['C', 'F']),
  hours: { type: 'integer', enum: [12, 24] },
  decimalMark: optional({ ...wordOf(['point', 'comma']), description: 'how numbers are written; without it a point' }),
  altitudeM: optional(within(-430, 8_800)),
  keepReadingsDays: optional({ ...daysKept, description: 'days that every reading is kept; without it 400' }),
  keepHoursDays: optional({
    ...daysKept,
    description: 'days that hours (least, mean, most) are kept; without it, for ever',
  }),
});
