import { callAgain, climb, extraCall, note, stand } from './climb.js';
import { type Call, CHECK_MS, type Ladder, type LadderStepped, type Roster } from './ladder.js';

/** What a person does about a fault. `safe`: left it, and is well. */
export const FAULT_VERBS = ['going', 'there', 'pass-on', 'safe'] as const;
export type FaultVerb = (typeof FAULT_VERBS)[number];

export type FaultAnswer = {
  readonly verb: FaultVerb;
  readonly by: string;
  readonly atMs: number;
  /** With `going`: 20, 40 or 60. */
  readonly minutes?: number;
  /** With `pass-on`: to whom; without, to the next in the order of calling. */
  readonly to?: string;
};

const going = (ladder: Ladder, { by, atMs, minutes = 20 }: FaultAnswer): LadderStepped => {
  const taken = note(ladder, 'taken', atMs, by);
  const told = [...new Set([...taken.ladder.told, by])];
  const untilMs = atMs + minutes * 60_000;
  return { ...taken, ladder: stand({ ...taken.ladder, told }, { kind: 'going', by, sinceMs: atMs, untilMs }) };
};

const there = (ladder: Ladder, { by, atMs }: FaultAnswer): LadderStepped => {
  const isStill = ladder.standing.kind === 'there' && ladder.standing.by === by;
  const taken = isStill ? { ladder, calls: [] } : note(ladder, 'taken', atMs, by);
  const standing = { kind: 'there', by, sinceMs: atMs, asked: false, checkMs: atMs + CHECK_MS[ladder.hour] } as const;
  return { ...taken, ladder: stand(taken.ladder, standing) };
};

const passOn = (ladder: Ladder, { by, to, atMs }: FaultAnswer, roster: Roster): LadderStepped => {
  const other = to ?? roster.order(atMs).find((person) => person !== by);
  // Nobody to give it to: it stays, and goes on climbing.
  if (other === undefined) return { ladder, calls: [] };
  const offered = extraCall(ladder, 'offered', atMs, [other]);
  return { ...offered, ladder: stand(offered.ladder, { kind: 'passing', by, to: other, sinceMs: atMs }) };
};

const safe = (ladder: Ladder, { by, atMs }: FaultAnswer): LadderStepped => {
  const { standing } = ladder;
  if (standing.kind !== 'there' || standing.by !== by) return { ladder, calls: [] };
  return { ladder: stand(ladder, { kind: 'acknowledged', by, sinceMs: atMs }), calls: [] };
};

/** A person's word. At exactly the time of a step it comes before the step. */
export const answerLadder = (before: Ladder, answer: FaultAnswer, roster: Roster): LadderStepped => {
  const { ladder, calls } = climb(before, answer.atMs - 1, roster);
  const done = answered(ladder, answer, roster);
  return { ladder: done.ladder, calls: [...calls, ...done.calls] };
};

const answered = (ladder: Ladder, answer: FaultAnswer, roster: Roster): LadderStepped => {
  if (ladder.standing.kind === 'ended') return { ladder, calls: [] };
  switch (answer.verb) {
    case 'going':
      return going(ladder, answer);
    case 'there':
      return there(ladder, answer);
    case 'pass-on':
      return passOn(ladder, answer, roster);
    case 'safe':
      return safe(ladder, answer);
  }
};

/** Acknowledged at a screen, without a word of going: quiet for all until the alarm calls again. */
export const acknowledgeLadder = (before: Ladder, by: string, atMs: number, roster: Roster): LadderStepped => {
  const { ladder, calls } = climb(before, atMs - 1, roster);
  if (ladder.standing.kind !== 'climbing' && ladder.standing.kind !== 'passing') return { ladder, calls };
  const taken = note(ladder, 'taken', atMs);
  return {
    ladder: stand(taken.ladder, { kind: 'acknowledged', by, sinceMs: atMs }),
    calls: [...calls, ...taken.calls],
  };
};

/**
 * The water is well again, or nobody is to be called for it any more. A person who is there alone stays looked after.
 * `restMs`: so long it must stay well before those who know are told.
 */
export const endLadder = (
  before: Ladder,
  why: 'cleared' | 'inhibited',
  atMs: number,
  roster: Roster,
  restMs = 0,
): LadderStepped => {
  const { ladder, calls } = climb(before, atMs - 1, roster);
  if (ladder.standing.kind === 'ended') return { ladder, calls };
  const cleared = why === 'cleared' ? clearedNote(ladder, atMs, restMs) : { ladder, calls: [] };
  const { standing } = ladder;
  const isAlone = standing.kind === 'there' && ladder.hour === 'night';
  const inHand = standing.kind === 'climbing' ? {} : { before: standing };
  const ended = stand(cleared.ladder, isAlone ? standing : { kind: 'ended', why, atMs, ...inHand });
  return { ladder: ended, calls: [...calls, ...cleared.calls] };
};

const clearedNote = (ladder: Ladder, atMs: number, restMs: number): LadderStepped =>
  restMs === 0
    ? note(ladder, 'cleared', atMs)
    : { ladder: ladder.told.length === 0 ? ladder : { ...ladder, sayClearedMs: atMs + restMs }, calls: [] };

/** Worse than when it was told: whoever has it is called again with the next; where nobody has, all who know are told. */
export const worsenLadder = (before: Ladder, atMs: number, roster: Roster): LadderStepped => {
  const { ladder, calls } = climb(before, atMs - 1, roster);
  const { standing } = ladder;
  if (standing.kind === 'ended') return { ladder, calls };
  if (standing.kind === 'climbing')
    return ladder.told.length === 0
      ? { ladder, calls }
      : withCalls(calls, extraCall(ladder, 'worse', atMs, ladder.told));
  return withCalls(calls, callAgain(ladder, standing.by, atMs, roster, 'worse'));
};

const withCalls = (calls: readonly Call[], done: LadderStepped): LadderStepped => ({
  ladder: done.ladder,
  calls: [...calls, ...done.calls],
});

/** So many messages were made of the last call; none, when nobody it was for has one of its ways. */
export const messagesMade = (before: Ladder, label: string, made: number, atMs: number): Ladder => {
  if (before.last.label !== label) return before;
  const ladder = { ...before, last: { ...before.last, made } };
  return made === 0 ? sooner(ladder, atMs) : ladder;
};

/** A message of the last call could not be sent; when none of them could, the next step does not wait for its hour. */
export const messageFailed = (before: Ladder, label: string, atMs: number): Ladder => {
  const { last } = before;
  if (last.label !== label) return before;
  const failed = last.failed + 1;
  const ladder = { ...before, last: { ...last, failed } };
  return failed < last.made ? ladder : sooner(ladder, atMs);
};

/** The next step now. The repetitions after the last one keep their hour: else a dead line would be hammered. */
const sooner = (ladder: Ladder, atMs: number): Ladder => {
  const isStep = ladder.standing.kind === 'climbing' && ladder.next < ladder.policy.steps.length;
  if (!isStep || ladder.dueMs === undefined || ladder.dueMs <= atMs) return ladder;
  return stand({ ...ladder, baseMs: ladder.baseMs - (ladder.dueMs - atMs) }, ladder.standing);
};
