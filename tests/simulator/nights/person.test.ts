import { describe, expect, it } from 'vitest';
import type { Call } from '../../../simulator/nights/call.js';
import type { Cause } from '../../../simulator/nights/cause.js';
import { answersBy, type Ground, hearCall, isNeedless, rested } from '../../../simulator/nights/person.js';

const START = Date.UTC(2026, 4, 4, 20);
const MINUTE = 60_000;
const at = (minute: number): number => START + minute * MINUTE;

const call = (minute: number, place: string, more: Partial<Call> = {}): Call => ({
  atMs: at(minute),
  alarmId: `${place}-${minute}`,
  code: 'above-limit',
  priority: 'medium',
  places: [place],
  isAgain: false,
  ...more,
});

const ground = (cause: Cause): Ground => ({
  startMs: START,
  endMs: at(600),
  onSite: [{ fromMs: START, toMs: at(60) }],
  lineOf: (place) => (place.startsWith('l') ? 'larval' : 'seed'),
  find: () => cause,
});

const heard = (calls: readonly Call[], cause: Cause = 'nothing') =>
  calls.reduce((person, one) => hearCall(person, one, ground(cause)), rested);

describe('the person who is woken', () => {
  it('sleeps through what is low, and is called to the wall while still at work', () => {
    expect(heard([call(100, 'l1', { priority: 'low' })]).wakings).toEqual([]);
    const [waking] = heard([call(30, 'l1')]).wakings;
    expect(waking?.asleep).toBe(false);
    expect(waking && isNeedless(waking)).toBe(false);
  });

  it('is woken for nothing when nothing is there, and not when there is a failure, harm, or a tank long unseen', () => {
    const needless = (cause: Cause) => heard([call(100, 'l1')], cause).wakings.filter(isNeedless).length;
    expect((['nothing', 'failure', 'harm', 'unseen'] as const).map(needless)).toEqual([1, 0, 0, 0]);
  });

  it('goes once for several alarms of one tank within the hour, and of one line within ten minutes', () => {
    expect(heard([call(100, 'l1'), call(140, 'l1')]).wakings).toHaveLength(1);
    expect(heard([call(100, 'l1'), call(108, 'l2')]).wakings).toHaveLength(1);
    expect(heard([call(100, 'l1'), call(115, 'l2')]).wakings).toHaveLength(2);
    expect(heard([call(100, 'l1'), call(105, 's1')]).wakings).toHaveLength(2);
    expect(heard([call(100, 'l1'), call(170, 'l1')]).wakings).toHaveLength(2);
  });

  it('acknowledges after a few minutes, and having found nothing shelves the alarm until the morning', () => {
    const person = heard([call(100, 'l1')]);
    expect(answersBy(person, at(103)).answers).toEqual([]);
    expect(answersBy(person, at(104)).answers.map(({ verb }) => verb)).toEqual(['ack']);
    const all = answersBy(person, at(200));
    expect(all.answers).toMatchObject([{ verb: 'ack' }, { verb: 'shelve' }]);
    expect(all.answers.map((answer) => ('untilMs' in answer ? answer.untilMs >= at(600) : false))).toEqual([
      false,
      true,
    ]);
    expect(all.person.due).toEqual([]);
  });

  it('ends work that was left open when it rings, and is not called any more once the morning round has begun', () => {
    const { answers } = answersBy(heard([call(100, 'l1', { code: 'work-overdue' })]), at(300));
    expect(answers).toMatchObject([{ verb: 'ack' }, { verb: 'end-work', places: ['l1'] }]);
    expect(heard([call(600, 'l1')]).wakings).toEqual([]);
  });

  it('leaves the alarm of a real failure acknowledged', () => {
    const { answers } = answersBy(heard([call(100, 'l1')], 'failure'), at(300));
    expect(answers.map(({ verb }) => verb)).toEqual(['ack']);
  });
});
