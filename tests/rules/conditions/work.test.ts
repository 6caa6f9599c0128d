import { describe, expect, test } from 'vitest';
import { CONDITION_CODES } from '../../../rules/conditions/finding.js';
import { isSuspended, SUSPENDED } from '../../../rules/conditions/suspended.js';
import { refusalForWork } from '../../../rules/husbandry/declare.js';
import type { Place } from '../../../rules/place.js';
import { WORK_KINDS } from '../../../rules/work.js';
import { HOUR, larvae, MINUTE, NIGHT_MS, site, WATER, watch } from '../../support/watch.js';

const AIR = { 'l1.salinity': 0.1, 'l1.oxygen-mg-l': 8.2 };
const DAY_MS = NIGHT_MS + 14 * HOUR;
const one = (more: Partial<Place> = {}) => site([larvae('l1', more)], { l1: { probes: WATER } });

describe('declared work', () => {
  test.each(WORK_KINDS)('%s never takes away a ceiling, lost mains or a wet floor', (kind) => {
    const codes = new Set(SUSPENDED[kind].map(({ code }) => code));
    for (const code of ['above-ceiling', 'below-ceiling', 'wet-floor', 'everything-silent'] as const)
      expect(codes.has(code)).toBe(false);
    expect(codes.has('mains-lost')).toBe(kind === 'standby-test');
    expect(codes.has('heater-stuck-on')).toBe(kind === 'spawning-run');
  });

  test('feeding with the flow off replaces the flow rules only: a temperature limit stands', () => {
    expect(isSuspended('feeding-flow-off', 'below-limit', 'flow')).toBe(true);
    expect(isSuspended('feeding-flow-off', 'below-limit', 'temperature')).toBe(false);
  });

  test('calls nobody while it lasts, stays in the record, ends by itself, and rings', () => {
    const watched = watch(one(), DAY_MS);
    watched.lives(30);
    watched.declares('drain-down', 'l1', 30);
    watched.lives(29, AIR);
    expect(watched.calls()).toEqual([]);
    const events = watched
      .effects()
      .flatMap((e) => (e.do === 'alarm' ? [`${e.event} ${e.alarm.finding.condition}`] : []));
    expect(events).toContain('suppress probe-in-air');
    watched.lives(2, AIR);
    expect(watched.calls()).toEqual(['cond-on work-overdue l1', 'unsuppress probe-in-air l1']);
    expect(watched.finding('work-overdue')).toMatchObject({ work: 'drain-down', priority: 'low' });
    watched.lives(32, AIR);
    expect(watched.finding('work-overdue')?.priority).toBe('medium');
  });

  test('ends exactly at its time, whenever anybody looks', () => {
    const watched = watch(one(), DAY_MS);
    watched.lives(10);
    watched.declares('drain-down', 'l1', 10, { untilMs: watched.now() + 10 * MINUTE + 12_345 });
    watched.lives(12, AIR);
    const lifted = watched.effects().find((effect) => effect.do === 'alarm' && effect.event === 'unsuppress');
    expect(lifted).toMatchObject({ atMs: DAY_MS + 20 * MINUTE + 12_345 });
  });

  test('that somebody ended does not ring', () => {
    const watched = watch(one(), DAY_MS);
    watched.declares('drain-down', 'l1', 30);
    watched.lives(20, AIR);
    watched.lives(5);
    watched.tell({
      kind: 'work',
      atMs: watched.now(),
      work: watched.state().work.map((w) => ({ ...w, endedMs: watched.now() })),
    });
    watched.lives(60);
    expect(watched.calls()).toEqual([]);
  });

  test('whose tap was forgotten while the tank is seen to be well wakes nobody', () => {
    const watched = watch(one(), DAY_MS);
    watched.lives(10);
    watched.declares('water-change', 'l1', 20);
    watched.lives(30);
    expect(watched.finding('work-overdue')).toMatchObject({ work: 'water-change', priority: 'low' });
  });

  test('of somebody alone watches the water as ever, and calls for them at once when the time is over', () => {
    const watched = watch(one(), DAY_MS);
    watched.lives(10);
    watched.declares('alone', 'l1', 30);
    watched.lives(29);
    expect(watched.calls()).toEqual([]);
    watched.lives(3);
    expect(watched.finding('work-overdue')).toMatchObject({ work: 'alone', priority: 'high' });
    expect(isSuspended('alone', 'above-limit', 'temperature')).toBe(false);
    expect(isSuspended('alone', 'probe-in-air', undefined)).toBe(false);
  });

  test('in one tank leaves its neighbour watched', () => {
    const settings = site([larvae('l1'), larvae('l2')], { l1: { probes: WATER }, l2: { probes: WATER } });
    const watched = watch(settings, DAY_MS);
    watched.lives(20);
    watched.declares('drain-down', 'l1', 60);
    watched.lives(20, { 'l2.salinity': 0.1, 'l2.oxygen-mg-l': 8.2 });
    expect(watched.calls()).toContain('realarm probe-in-air l2');
  });

  test('the change of water after a drain-down is nobody’s too-fast', () => {
    const watched = watch(one({ heaterW: 0 }), DAY_MS);
    watched.lives(60);
    watched.declares('water-change', 'l1', 40);
    watched.lives(30, { 'l1.temperature': 21 });
    watched.tell({
      kind: 'work',
      atMs: watched.now(),
      work: watched.state().work.map((w) => ({ ...w, endedMs: watched.now() })),
    });
    watched.lives(90, { 'l1.temperature': 21 });
    expect(watched.calls().filter((call) => call.includes('too-fast'))).toEqual([]);
  });

  test('resting is refused while stock is inside, and so is what ends before it begins or lasts for ever', () => {
    const span = { fromMs: 0, untilMs: HOUR };
    expect(refusalForWork({ kind: 'resting', ...span }, larvae('l1'))).toMatchObject({ because: 'resting-with-stock' });
    expect(refusalForWork({ kind: 'resting', ...span }, larvae('l1', { stage: 'empty' }))).toBeUndefined();
    expect(refusalForWork({ kind: 'drain-down', fromMs: HOUR, untilMs: 0 }, larvae('l1'))).toMatchObject({
      because: 'work-ends-before-it-begins',
    });
    expect(refusalForWork({ kind: 'drain-down', fromMs: 0, untilMs: 90 * HOUR }, larvae('l1'))).toMatchObject({
      because: 'work-too-long',
    });
  });
});

describe('emptying that nobody declared', () => {
  test('is shown at once, and calls after five minutes when nobody is there', () => {
    const watched = watch(one());
    watched.lives(30);
    watched.lives(4, AIR);
    expect(watched.finding('probe-in-air')).toMatchObject({ priority: 'low', evidence: ['nobody-on-site'] });
    watched.lives(3, AIR);
    expect(watched.finding('probe-in-air')?.priority).toBe('medium');
  });

  test('is left to the wall while people are there, and calls when they have not seen it', () => {
    const watched = watch(one());
    watched.tell({ kind: 'presence', atMs: watched.now(), onSite: true });
    watched.lives(30);
    watched.lives(12, AIR);
    expect(watched.finding('probe-in-air')).toMatchObject({ priority: 'low', evidence: [] });
    watched.lives(5, AIR);
    expect(watched.finding('probe-in-air')?.priority).toBe('medium');
  });

  test('asks whether the wrong tank was drained, when a neighbour is declared and still full', () => {
    const settings = site([larvae('l1', { lineId: 'a' }), larvae('l2', { lineId: 'a' })], {
      l1: { probes: WATER },
      l2: { probes: WATER },
    });
    const watched = watch(settings, DAY_MS);
    watched.lives(10);
    watched.declares('drain-down', 'l2', 60);
    watched.lives(12, AIR);
    expect(watched.finding('probe-in-air', 'l1')?.evidence).toContain('wrong-tank');
    expect(watched.finding('probe-in-air', 'l1')?.checks?.[0]).toBe('heater-off-at-wall');
  });

  test('is the cell and not the water while the other probes notice nothing: for the wall', () => {
    const watched = watch(one());
    watched.lives(30);
    watched.lives(30, { 'l1.salinity': 0 });
    expect(watched.finding('probe-in-air')).toMatchObject({ priority: 'low' });
    expect(watched.finding('probe-in-air')?.evidence).toContain('looks-like-probe');
    watched.lives(20, { 'l1.salinity': 0 });
    expect(watched.finding('probe-in-air')?.priority).toBe('medium');
  });

  test('is the cell also where a thermostat swings the water: it goes where it has been within the hour', () => {
    const watched = watch(one());
    const swings = (minute: number) => 24 + 0.6 * Math.sin((2 * Math.PI * minute) / 24);
    watched.lives(120, { 'l1.temperature': swings });
    watched.lives(30, { 'l1.salinity': 0, 'l1.temperature': swings });
    expect(watched.finding('probe-in-air')).toMatchObject({ priority: 'low' });
  });

  test('is nobody’s alarm in an empty tank', () => {
    const watched = watch(one({ stage: 'empty' }));
    watched.lives(30);
    watched.lives(60, AIR);
    expect(watched.finding('probe-in-air')?.priority ?? 'low').toBe('low');
  });
});

describe('work that comes back', () => {
  const weekly = one({ upkeepH: { 'water-change': 24 } });

  test('is called overdue by day only', () => {
    const watched = watch(weekly);
    watched.tell({
      kind: 'done',
      atMs: watched.now(),
      doneMs: watched.now() - 32 * HOUR,
      placeId: 'l1',
      task: 'water-change',
    });
    watched.lives(8 * 60 + 50);
    expect(watched.holds()).not.toContain('upkeep-overdue l1');
    watched.lives(60);
    expect(watched.finding('upkeep-overdue')).toMatchObject({ task: 'water-change', priority: 'low' });
  });

  test('is done when the log says so', () => {
    const watched = watch(weekly, DAY_MS);
    watched.tell({ kind: 'done', atMs: DAY_MS, doneMs: DAY_MS - 40 * HOUR, placeId: 'l1', task: 'water-change' });
    watched.lives(20);
    expect(watched.holds()).toContain('upkeep-overdue l1');
    watched.tell({ kind: 'done', atMs: watched.now(), placeId: 'l1', task: 'water-change' });
    expect(watched.holds()).not.toContain('upkeep-overdue l1');
  });

  test('is never called where nobody logs it', () => {
    const watched = watch(one({ speciesGroup: 'hard-clam' }), DAY_MS);
    watched.lives(30);
    expect(watched.holds()).toEqual([]);
  });
});

test('the table of replaced rules speaks of conditions that exist', () => {
  const codes = new Set<string>(CONDITION_CODES);
  for (const kind of WORK_KINDS) for (const { code } of SUSPENDED[kind]) expect(codes.has(code)).toBe(true);
});
