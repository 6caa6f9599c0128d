import { type Signal, signal } from '@preact/signals';
import type { Course } from '../../rules/place.js';
import type { Quantity } from '../../rules/quantity.js';
import { fault, ok, type Result } from '../../rules/result.js';
import type { Schedule, SchedulePoint } from '../../rules/stage/course.js';
import { wallMs, wallText } from '../../rules/words/clock.js';
import { dayAndClockWords } from '../../rules/words/course.js';
import { fixedWords, noNumberSentence, typedNumber, typedWords } from '../../rules/words/figure.js';
import type { Reader } from '../../rules/words/language.js';
import { canonicalDifference, canonicalValue, shownDifference, shownValue } from '../../rules/words/number.js';
import type { FormFault } from './place-form.js';

/** Quantities whose target can move on this page; others can by file or API. */
export const MOVING = ['temperature', 'salinity'] as const;
export type MovingQuantity = (typeof MOVING)[number];
export const isMoving = (quantity: Quantity): quantity is MovingQuantity => MOVING.some((one) => one === quantity);

export const WAYS = [
  ['stays', 'stays'],
  ['schedule', 'by dates'],
  ['follows', 'follows another place'],
] as const;

/** A date of a schedule as it is typed; what it was before, so that what nobody touched stays to the last digit. */
export type PointDraft = {
  readonly when: Signal<string>;
  readonly target: Signal<string>;
  readonly was?: SchedulePoint;
};

/** What stands in the form of a moving target: text, as a person typed it, in the reader's degrees. */
export type CourseDraft = {
  readonly quantity: MovingQuantity;
  readonly before: Course | undefined;
  readonly way: Signal<string>;
  readonly points: Signal<readonly PointDraft[]>;
  readonly placeId: Signal<string>;
  readonly offset: Signal<string>;
  readonly within: Signal<string>;
  readonly faults: Signal<readonly FormFault[]>;
};

const FEWEST = 2;
const MOST_WITHIN = 1_000;

export const newPoint = (when = '', target = ''): PointDraft => ({ when: signal(when), target: signal(target) });

const targetText = (quantity: Quantity, value: number, reader: Reader): string =>
  typedWords(shownValue(quantity, value, reader), 2, reader);
const differenceText = (quantity: Quantity, value: number | undefined, reader: Reader): string =>
  value === undefined ? '' : typedWords(shownDifference(quantity, value, reader), 2, reader);

/** The form of what is set; one that is opened for the first time begins at `nowMs` from what is wanted now. */
export const draftOf = (
  quantity: MovingQuantity,
  before: Course | undefined,
  reader: Reader,
  now: { readonly atMs: number; readonly target?: number },
): CourseDraft => {
  const schedule = before?.kind === 'schedule' ? before.points.toSorted((a, b) => a.atMs - b.atMs) : undefined;
  const follows = before?.kind === 'follows' ? before : undefined;
  const from = now.target === undefined ? '' : targetText(quantity, now.target, reader);
  return {
    quantity,
    before,
    way: signal(before?.kind ?? 'stays'),
    points: signal(
      schedule?.map((was) => ({
        when: signal(wallText(was.atMs, reader.zone)),
        target: signal(targetText(quantity, was.target, reader)),
        was,
      })) ?? [newPoint(wallText(now.atMs, reader.zone), from), newPoint()],
    ),
    placeId: signal(follows?.placeId ?? ''),
    offset: signal(differenceText(quantity, follows?.offset ?? 0, reader)),
    within: signal(differenceText(quantity, before?.within, reader)),
    faults: signal([]),
  };
};

type Say = (field: string, detail: string) => undefined;

/** The course that the form asks for, undefined for a target that stays; else what is wrong, beside its field. */
export const courseOfDraft = (draft: CourseDraft, reader: Reader): Result<Course | undefined, readonly FormFault[]> => {
  const faults: FormFault[] = [];
  const say: Say = (field, detail) => {
    faults.push({ field, detail });
  };
  const kind = draft.way.value;
  if (kind !== 'schedule' && kind !== 'follows') return ok(undefined);
  const made = kind === 'schedule' ? scheduleOf(draft, reader, say) : followsOf(draft, reader, say);
  const within = withinOf(draft, reader, say);
  return made === undefined || within === undefined || faults.length > 0 ? fault(faults) : ok({ ...made, within });
};

/** The dates of the form that can be read by now, for what they come to in words. */
export const readPoints = (draft: CourseDraft, reader: Reader): readonly SchedulePoint[] =>
  draft.points.value.flatMap((point) => {
    const unheard: Say = () => undefined;
    const atMs = whenOf(point, 0, reader, unheard);
    const target = isBlank(point) ? undefined : pointTarget(draft.quantity, point, 0, reader, unheard);
    return atMs === undefined || target === undefined ? [] : [{ atMs, target }];
  });

const isBlank = ({ when, target }: PointDraft): boolean => when.value === '' && target.value.trim() === '';

const scheduleOf = (draft: CourseDraft, reader: Reader, say: Say): Omit<Schedule, 'within'> => {
  const points: SchedulePoint[] = [];
  const rows = draft.points.value;
  for (const [index, point] of rows.entries()) {
    if (isBlank(point)) continue;
    const atMs = whenOf(point, index, reader, say);
    const target = pointTarget(draft.quantity, point, index, reader, say);
    if (atMs === undefined) continue;
    const before = points.at(-1);
    if (before !== undefined && atMs <= before.atMs)
      say(whenField(index), `This must be later than ${dayAndClockWords(before.atMs, reader)}, the date before it.`);
    points.push({ atMs, target: target ?? 0 });
  }
  if (rows.filter((point) => !isBlank(point)).length < FEWEST)
    say(whenField(Math.max(0, rows.findIndex(isBlank))), 'A schedule needs two dates at least: from where, to where.');
  return { kind: 'schedule', points };
};

export const whenField = (index: number): string => `when ${index}`;
export const targetField = (index: number): string => `target ${index}`;

const whenOf = ({ when, was }: PointDraft, index: number, reader: Reader, say: Say): number | undefined => {
  // The picker knows minutes, and an hour that comes twice only once.
  if (was !== undefined && when.value === wallText(was.atMs, reader.zone)) return was.atMs;
  return wallMs(when.value, reader.zone) ?? say(whenField(index), 'From when on? Choose a day and a time.');
};

const numberOf = (text: string, field: string, empty: string, reader: Reader, say: Say): number | undefined => {
  const value = typedNumber(text, reader);
  if (value === null) return say(field, noNumberSentence(text, reader));
  return value ?? say(field, empty);
};

const pointTarget = (quantity: Quantity, { target, was }: PointDraft, index: number, reader: Reader, say: Say) => {
  const text = target.value;
  if (was !== undefined && text === targetText(quantity, was.target, reader)) return was.target;
  const shown = numberOf(text, targetField(index), `Which target? As in ${fixedWords(18.5, 1, reader)}.`, reader, say);
  return shown === undefined ? undefined : canonicalValue(quantity, shown, reader);
};

const followsOf = (draft: CourseDraft, reader: Reader, say: Say) => {
  const { quantity, before } = draft;
  const placeId = draft.placeId.value;
  if (placeId === '') say('placeId', 'Which place does it follow? Choose one.');
  const text = draft.offset.value;
  if (before?.kind === 'follows' && text === differenceText(quantity, before.offset, reader))
    return { kind: 'follows', placeId, offset: before.offset } as const;
  const shown = numberOf(text, 'offset', 'How much above it? 0 is the same as there.', reader, say);
  const offset = shown === undefined ? 0 : canonicalDifference(quantity, shown, reader);
  return { kind: 'follows', placeId, offset } as const;
};

const withinOf = ({ quantity, before, within }: CourseDraft, reader: Reader, say: Say): number | undefined => {
  const text = within.value;
  if (before !== undefined && text === differenceText(quantity, before.within, reader)) return before.within;
  const shown = numberOf(text, 'within', 'How far off on either side? A number above 0.', reader, say);
  if (shown === undefined) return undefined;
  const band = canonicalDifference(quantity, shown, reader);
  return band > 0 && band <= MOST_WITHIN
    ? band
    : say('within', `The band is ${text.trim()}: give more than 0, as in ${fixedWords(0.5, 1, reader)}.`);
};
