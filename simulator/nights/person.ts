import type { Answer, Call } from './call.js';
import type { Cause } from './cause.js';
import { HOUR_MS, MINUTE_MS, type Span, within } from './span.js';

/** One time that somebody was woken, or called over to the wall while still at work. */
export type Waking = {
  readonly atMs: number;
  readonly asleep: boolean;
  readonly calls: readonly Call[];
  readonly causes: readonly Cause[];
};

export type Person = { readonly wakings: readonly Waking[]; readonly due: readonly Answer[] };

export const rested: Person = { wakings: [], due: [] };

/** What the person knows of the house, and what is there when they look. */
export type Ground = {
  readonly startMs: number;
  readonly endMs: number;
  readonly onSite: readonly Span[];
  readonly lineOf: (place: string) => string | undefined;
  readonly find: (call: Call) => Cause;
};

/** Calls about one tank within the hour, and about one line within ten minutes, are one errand (common practice). */
const SAME_PLACE_MS = 60 * MINUTE_MS;
const SAME_LINE_MS = 10 * MINUTE_MS;
/** From the ring to the tap, and from there to the tank. */
const TO_ACK_MS = 4 * MINUTE_MS;
const TO_TANK_MS = 40 * MINUTE_MS;

const isPart = ({ atMs, calls }: Waking, call: Call, { lineOf }: Ground): boolean => {
  const since = call.atMs - atMs;
  if (since > SAME_PLACE_MS) return false;
  const places = new Set(calls.flatMap((one) => one.places));
  if (call.places.some((place) => places.has(place))) return true;
  const lines = new Set([...places].map(lineOf).filter((line) => line !== undefined));
  return since <= SAME_LINE_MS && call.places.some((place) => lines.has(lineOf(place) ?? ''));
};

/**
 * The policy: medium and high wake, low waits for the morning. The person acknowledges, goes, and looks. Where there is
 * nothing to find they shelve the alarm until the morning, and work that was left open they end; a failure they leave acknowledged, since both watches are
 * judged on water that nobody mends.
 */
export const hearCall = (person: Person, call: Call, ground: Ground): Person => {
  if (call.priority === 'low' || call.atMs < ground.startMs || call.atMs >= ground.endMs) return person;
  const asleep = !ground.onSite.some((span) => within(span, call.atMs));
  const cause = ground.find(call);
  const index = person.wakings.findIndex((waking) => waking.asleep === asleep && isPart(waking, call, ground));
  const known = person.wakings[index];
  const waking: Waking =
    known === undefined
      ? { atMs: call.atMs, asleep, calls: [call], causes: [cause] }
      : { ...known, calls: [...known.calls, call], causes: [...known.causes, cause] };
  const wakings = known === undefined ? [...person.wakings, waking] : person.wakings.with(index, waking);
  return { wakings, due: [...person.due, ...answersTo(call, cause, asleep, ground)] };
};

const answersTo = (call: Call, cause: Cause, asleep: boolean, { endMs }: Ground): readonly Answer[] => {
  const { alarmId, places } = call;
  const ackMs = call.atMs + TO_ACK_MS;
  const ack: Answer = { atMs: ackMs, alarmId, verb: 'ack' };
  if (call.code === 'work-overdue') return [ack, { atMs: ackMs, verb: 'end-work', places }];
  if (cause !== 'nothing') return [ack];
  const atMs = asleep ? ackMs + TO_TANK_MS : ackMs + MINUTE_MS;
  return [ack, { atMs, alarmId, verb: 'shelve', untilMs: endMs + HOUR_MS }];
};

/** The answers due by now, and the person without them. */
export const answersBy = (
  person: Person,
  atMs: number,
): { readonly person: Person; readonly answers: readonly Answer[] } => {
  const answers = person.due.filter((answer) => answer.atMs <= atMs);
  if (answers.length === 0) return { person, answers };
  return { person: { ...person, due: person.due.filter((answer) => answer.atMs > atMs) }, answers };
};

/** Woken from sleep, and of all that was named nothing was there. */
export const isNeedless = ({ asleep, causes }: Waking): boolean =>
  asleep && causes.every((cause) => cause === 'nothing');
