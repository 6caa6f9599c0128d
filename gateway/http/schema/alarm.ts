import type { AlarmPicture } from '../../../rules/alarm/alarm.js';
import { CORE_STATES, INHIBITS } from '../../../rules/alarm/lifecycle.js';
import {
  CONDITION_CODES,
  type Exposure,
  type Finding,
  type Harm,
  type Line,
  PRIORITIES,
  type Remedy,
} from '../../../rules/conditions/finding.js';
import { TASKS, WORK_KINDS } from '../../../rules/work.js';
import {
  anyNumber,
  anyText,
  atMs,
  type JsonSchema,
  listOf,
  optional,
  shape,
  text,
  within,
  wordOf,
  yesNo,
} from './shape.js';

const LINE = shape<Line>({
  kind: wordOf(['target', 'limit', 'ceiling']),
  side: wordOf(['low', 'high']),
  value: anyNumber,
});
const HARM = shape<Harm>(
  { atMs: anyNumber, earliestMs: anyNumber, latestMs: optional(anyNumber), basis: listOf(anyText) },
  'clock time of harm with its interval',
);

const FINDING = shape<Finding>({
  condition: wordOf(CONDITION_CODES),
  placeId: anyText,
  channelId: optional(anyText),
  priority: wordOf(PRIORITIES),
  sinceMs: atMs,
  value: optional(anyNumber),
  line: optional(LINE),
  harm: optional(HARM),
  perHour: optional(anyNumber),
  evidence: optional(listOf(anyText)),
  checks: optional(listOf(anyText)),
  unconfirmed: optional(yesNo),
  exposure: optional(shape<Exposure>({ unitHours: anyNumber, hours: anyNumber })),
  remedy: optional(
    shape<Remedy>({ add: wordOf(['fresh-water', 'sea-water']), litres: anyNumber, overHours: anyNumber }),
  ),
  work: optional(wordOf(WORK_KINDS)),
  task: optional(wordOf(TASKS)),
  boardId: optional(anyText),
  places: optional(listOf(anyText)),
  ofPlaces: optional(anyNumber),
});

export const ALARM: JsonSchema = shape<AlarmPicture>(
  {
    id: anyText,
    subject: { ...anyText, description: 'channel or place' },
    finding: FINDING,
    priority: wordOf(PRIORITIES),
    state: wordOf(CORE_STATES),
    inhibit: optional(wordOf(INHIBITS)),
    inhibitUntilMs: optional(atMs),
    inhibitBy: optional(anyText),
    inhibitReason: optional(anyText),
    activatedMs: atMs,
    changedMs: atMs,
    acknowledgedBy: optional(anyText),
    acknowledgedMs: optional(atMs),
  },
  'life cycle of ISA-18.2 / IEC 62682',
);

/** Putting an alarm aside for a while, and why: whoever comes next must know. */
export type Shelving = { readonly minutes?: number; readonly untilMs?: number; readonly reason: string };
export const SHELVING: JsonSchema = shape<Shelving>({
  minutes: optional(within(1, 480)),
  untilMs: optional(atMs),
  reason: text(200),
});

export type Reason = { readonly reason: string };
export const REASON: JsonSchema = shape<Reason>({ reason: text(200) });
