import { describe, expect, test } from 'vitest';
import {
  type Forecast,
  forecastRecord,
  givenUpMs,
  issued,
  type Score,
  scored,
} from '../../../rules/conditions/forecast.js';
import { onCourse, targetOf } from '../../../rules/stage/course.js';
import { HOUR, larvae, MINUTE, NIGHT_MS, site, WATER, watch } from '../../support/watch.js';

const forecast: Forecast = {
  condition: 'heater-stuck-on',
  subject: 'l1.temperature',
  channelId: 'l1.temperature',
  issuedMs: 0,
  line: { kind: 'ceiling', side: 'high', value: 30 },
  harm: { atMs: 60 * MINUTE, earliestMs: 50 * MINUTE, latestMs: 75 * MINUTE, basis: [] },
};
const at = (minute: number, value: number) =>
  scored(forecast, { nowMs: minute * MINUTE, valueMs: minute * MINUTE, value });

describe('a forecast', () => {
  test('is a hit inside its interval, and says by how much it was off', () => {
    expect(at(66, 30.1)).toMatchObject({ outcome: 'hit', errorMin: 6 });
    expect(at(40, 30.1)).toMatchObject({ outcome: 'early', errorMin: -20 });
    expect(at(80, 30.1)).toMatchObject({ outcome: 'late', errorMin: 20 });
  });

  test('stays open until its time has passed, and is then not reached', () => {
    expect(at(74, 29)).toBeUndefined();
    expect(scored(forecast, { nowMs: givenUpMs(forecast), valueMs: 1, value: 29 })).toMatchObject({
      outcome: 'not-reached',
    });
  });

  test('is kept once while it says the same, and again when it says something else', () => {
    const finding = { condition: 'heater-stuck-on', placeId: 'l1', priority: 'high', sinceMs: 0 } as const;
    const told = (minute: number) => ({
      ...finding,
      channelId: 'l1.temperature',
      line: forecast.line,
      harm: { ...forecast.harm, atMs: minute * MINUTE },
    });
    const first = issued([], told(60), 'l1.temperature', 0);
    expect(first).toHaveLength(1);
    expect(issued(first, told(65), 'l1.temperature', MINUTE)).toBe(first);
    expect(issued(first, told(30), 'l1.temperature', MINUTE)).toHaveLength(2);
  });

  test('record: reached, inside, given up, and the median error', () => {
    const score = (outcome: Score['outcome'], errorMin?: number): Score => ({
      forecast,
      outcome,
      scoredMs: 0,
      ...(errorMin === undefined ? {} : { errorMin }),
    });
    expect(forecastRecord([score('hit', -4), score('hit', 6), score('late', 20), score('not-reached')])).toEqual({
      reached: 3,
      hits: 2,
      notReached: 1,
      medianErrorMin: 6,
    });
    expect(forecastRecord([])).toEqual({ reached: 0, hits: 0, notReached: 0 });
  });

  test('of the engine is scored when the water got there, over a restart too', () => {
    const watched = watch(site([larvae('l1')], { l1: { probes: WATER } }));
    watched.lives(180);
    watched.lives(60, { 'l1.temperature': (minute) => 24 + (1.76 * minute) / 60 });
    watched.restarts();
    watched.lives(180, { 'l1.temperature': (minute) => 24 + (1.76 * (minute + 60)) / 60 });
    const scores = watched.effects().filter((effect) => effect.do === 'score');
    expect(scores.length).toBeGreaterThan(0);
    for (const { outcome, errorMin } of scores) {
      expect(outcome).toBe('hit');
      expect(Math.abs(errorMin ?? 99)).toBeLessThan(15);
    }
    expect(watched.state().forecasts).toEqual([]);
  });

  test('that somebody averted is given up, not forgotten', () => {
    const watched = watch(site([larvae('l1')], { l1: { probes: WATER } }));
    watched.lives(180);
    watched.lives(55, { 'l1.temperature': (minute) => 24 + (1.76 * minute) / 60 });
    watched.lives(8 * 60, { 'l1.temperature': 24 });
    const scores = watched.effects().filter((effect) => effect.do === 'score');
    expect(scores.map(({ outcome }) => outcome)).toContain('not-reached');
    expect(watched.state().forecasts).toEqual([]);
  });
});

describe('a target that moves', () => {
  const schedule = {
    kind: 'schedule',
    within: 0.5,
    points: [
      { atMs: NIGHT_MS, target: 18 },
      { atMs: NIGHT_MS + 6 * 24 * HOUR, target: 24 },
    ],
  } as const;

  test('goes straight from one dated point to the next: 18 to 24 in six days is 1 °C a day', () => {
    const day = (days: number) => targetOf(schedule, NIGHT_MS + days * 24 * HOUR, () => undefined);
    expect([day(-1), day(0), day(3), day(6), day(9)]).toEqual([18, 18, 21, 24, 24]);
  });

  test('follows the intake, and is no target while the intake is silent; limits stay', () => {
    const follows = { kind: 'follows', placeId: 'intake', offset: 0, within: 1 } as const;
    const wants = { targetLow: 1, targetHigh: 2, limitHigh: 27, confirmed: true };
    expect(onCourse(wants, follows, 0, () => 19)).toEqual({
      targetLow: 18,
      targetHigh: 20,
      limitHigh: 27,
      confirmed: true,
    });
    expect(onCourse(wants, follows, 0, () => undefined)).toEqual({ limitHigh: 27, confirmed: true });
  });

  test('is what the tank is judged by and what a screen shows: a plan of warming wakes nobody', () => {
    const plan = {
      ...schedule,
      points: [
        { atMs: NIGHT_MS, target: 20 },
        { atMs: NIGHT_MS + 24 * HOUR, target: 22 },
      ],
    };
    const wants = { temperature: { limitLow: 15, limitHigh: 26, ceilingHigh: 28, confirmed: true, course: plan } };
    const watched = watch(site([larvae('b1', { stage: 'conditioning', wants })], { b1: { probes: WATER } }));
    watched.lives(24 * 60, { 'b1.temperature': (minute) => 20 + minute / 720 });
    expect(watched.calls()).toEqual([]);
    const index = watched.state().plan.channelOf.get('b1.temperature') ?? -1;
    expect(watched.state().channels[index]?.shown?.state).toBe('in-target');
  });
});
