import { describe, expect, test } from 'vitest';
import type { Place } from '../../../rules/place.js';
import { HOUR, larvae, MINUTE, NIGHT_MS, site, WATER, watch } from '../../support/watch.js';

const O = 'l1.oxygen-mg-l';
const airA: Place = { id: 'air-a', kind: 'air-main', name: 'Air A', order: 9 };
const tanks = (more: Partial<Place> = {}, contact = true) =>
  site([airA, larvae('l1', { airMainId: 'air-a', ...more }), larvae('l2', { airMainId: 'air-a', ...more })], {
    'air-a': { probes: contact ? ['contact'] : [] },
    l1: { probes: WATER },
    l2: { probes: WATER },
  });
const falls = (perHour: number) => (minute: number) => 6.8 - (perHour * minute) / 60;

describe('the air main', () => {
  test('by its switch is on the wall within seconds and calls after two minutes; its tanks do not call each for itself', () => {
    const watched = watch(tanks());
    watched.lives(120);
    const off = { 'air-a.contact': 0, [O]: falls(1.5), 'l2.oxygen-mg-l': falls(1.6) };
    watched.lives(1, off);
    expect(watched.finding('air-lost')).toMatchObject({ priority: 'low', places: ['l1', 'l2'], ofPlaces: 2 });
    watched.lives(1.5, off);
    expect(watched.finding('air-lost')).toMatchObject({ priority: 'high', places: ['l1', 'l2'], ofPlaces: 2 });
    watched.lives(60, off);
    expect(watched.calls()).toEqual(['cond-on air-lost air-a', 'realarm air-lost air-a']);
  });

  test('that comes back by itself, as after a flicker of the mains, wakes nobody', () => {
    const watched = watch(tanks());
    watched.lives(120);
    watched.lives(1.5, { 'air-a.contact': 0 });
    watched.lives(30);
    expect(watched.calls()).toEqual(['cond-on air-lost air-a']);
    expect(
      watched.effects().flatMap((effect) => (effect.do === 'alarm' ? [effect.alarm.finding.priority] : [])),
    ).not.toContain('high');
  });

  test('with its switch on leaves falling oxygen to the one tank that has it', () => {
    const watched = watch(tanks());
    watched.lives(120);
    watched.lives(45, { [O]: falls(1.6) });
    expect(watched.holds()).not.toContain('air-lost air-a');
    expect(watched.finding('oxygen-falling')?.evidence).toContain('only-this-tank');
  });

  test('says nothing of embryos that stand still on purpose', () => {
    const still = { stage: 'embryo', stageSinceMs: NIGHT_MS - 6 * HOUR } as const;
    const watched = watch(tanks(still, false));
    watched.lives(120);
    watched.lives(45, { [O]: falls(0.9), 'l2.oxygen-mg-l': falls(0.9) });
    expect(watched.calls()).toEqual([]);
  });

  test('is told again as soon as the embryos are two days old', () => {
    const shelled = { stage: 'embryo', stageSinceMs: NIGHT_MS - 60 * HOUR } as const;
    const watched = watch(tanks(shelled, false));
    watched.lives(120);
    watched.lives(45, { [O]: falls(1.5), 'l2.oxygen-mg-l': falls(1.5) });
    expect(watched.holds()).toContain('air-lost air-a');
  });
});

describe('oxygen that runs out', () => {
  test('with the air off has its time of harm from the budget: a little later than the straight line, with an interval', () => {
    const settings = site([airA, larvae('l1', { airMainId: 'air-a' })], {
      'air-a': { probes: ['contact'] },
      l1: { probes: [...WATER, 'oxygen-saturation'] },
    });
    const watched = watch(settings);
    watched.lives(120);
    const course = { 'air-a.contact': 0, [O]: falls(1.4), 'l1.oxygen-saturation': (m: number) => 97 - (20 * m) / 60 };
    watched.lives(45, course);
    const harm = watched.finding('oxygen-falling')?.harm;
    expect(harm?.basis).toContain('oxygen-budget');
    // Straight on: 4.2 mg/L is 2.6 mg/L down at 1.4 an hour, 111 minutes after the air stopped.
    const straightMs = NIGHT_MS + (120 + (2.6 / 1.4) * 60) * MINUTE;
    expect(harm?.atMs).toBeGreaterThan(straightMs - 5 * MINUTE);
    expect(harm?.atMs).toBeLessThan(straightMs + 25 * MINUTE);
    expect(harm?.earliestMs).toBeLessThan(harm?.atMs ?? 0);
  });

  test('is high when half an hour is left, medium with two', () => {
    const priorityAfter = (minutes: number) => {
      const watched = watch(tanks({}, false));
      watched.lives(120);
      watched.lives(minutes, { [O]: falls(2.4) });
      return watched.finding('oxygen-falling')?.priority;
    };
    expect(priorityAfter(25)).toBe('medium');
    expect(priorityAfter(45)).toBe('high');
  });

  test('is not the night of green water: the same fall at the same hour yesterday', () => {
    const watched = watch(tanks({ heaterW: 0 }, false));
    const green = (minute: number) => 6.6 + 1 * Math.cos((2 * Math.PI * minute) / (24 * 60));
    watched.lives(48 * 60, { [O]: green });
    expect(watched.calls().filter((call) => call.includes('oxygen-falling'))).toEqual([]);
  });

  test('is not water that warms: it holds less at the same saturation', () => {
    const settings = site([larvae('l1', { heaterW: 0 })], { l1: { probes: [...WATER, 'oxygen-saturation'] } });
    const watched = watch(settings);
    watched.lives(120);
    watched.lives(60, { [O]: falls(0.9), 'l1.oxygen-saturation': 97 });
    expect(watched.holds().filter((held) => held.startsWith('oxygen-falling'))).toEqual([]);
  });

  test('is not a surplus that leaves the water', () => {
    const settings = site([larvae('l1', { heaterW: 0 })], { l1: { probes: [...WATER, 'oxygen-saturation'] } });
    const watched = watch(settings);
    watched.lives(60, { [O]: 9.5, 'l1.oxygen-saturation': 138 });
    watched.lives(60, { [O]: (m) => 9.5 - m / 40, 'l1.oxygen-saturation': (m) => 138 - m / 3 });
    expect(watched.holds().filter((held) => held.startsWith('oxygen-falling'))).toEqual([]);
  });

  test('is not the feeding that was declared, and names it when the flow was left off afterwards', () => {
    const flowing = site([larvae('l1', { regime: 'flow-through', flowLMin: 6 })], {
      l1: { probes: [...WATER, 'flow'] },
    });
    const watched = watch(flowing);
    watched.lives(120);
    watched.declares('feeding-flow-off', 'l1', 46);
    watched.lives(45, { 'l1.flow': 0, [O]: falls(1.2) });
    expect(watched.calls().filter((call) => !call.includes('work-overdue'))).toEqual([]);
    watched.lives(20, { 'l1.flow': 0, [O]: (m) => falls(1.2)(m + 45) });
    expect(watched.calls()).toContain('cond-on work-overdue l1');
    expect(watched.finding('flow-lost')?.evidence).toContain('off-after-feeding');
    expect(watched.finding('oxygen-falling')?.checks?.[0]).toBe('flow-running');
  });

  test('is not a fouling probe that declines for days', () => {
    const watched = watch(tanks({}, false));
    watched.lives(36 * 60, { [O]: (minute) => 6.8 - minute / 4000 });
    expect(watched.holds().filter((held) => held.startsWith('oxygen-falling'))).toEqual([]);
  });
});

describe('by the day', () => {
  const sat = site([larvae('l1', { heaterW: 0 })], { l1: { probes: ['temperature', 'oxygen-saturation'] } });
  const swing = (low: (day: number) => number, high: number) => (minute: number) => {
    const day = Math.floor((minute + 21 * 60) / 1440);
    const mean = (low(day) + high) / 2;
    // Lowest at 06:00, highest at 18:00; the watch began at 22:00.
    return mean - ((high - low(day)) / 2) * Math.cos((2 * Math.PI * (minute + 16 * 60)) / 1440);
  };

  test('dawn minima that fall night by night are told in the morning, never at night', () => {
    const watched = watch(sat);
    watched.lives(4 * 1440 + 900, { 'l1.oxygen-saturation': swing((day) => 88 - 5 * day, 103) });
    expect(watched.calls()).toContain('cond-on dawn-oxygen-falling l1.oxygen-saturation');
    for (const { atMs, alarm } of watched.effects().filter((effect) => effect.do === 'alarm'))
      if (alarm.finding.condition === 'dawn-oxygen-falling')
        expect(new Date(atMs).getUTCHours()).toBeGreaterThanOrEqual(9);
  });

  test('dawn minima that stay are no finding, and algae that lift the oxygen by day wake nobody', () => {
    const watched = watch(sat);
    watched.lives(4 * 1440, { 'l1.oxygen-saturation': swing(() => 88, 122) });
    const calls = watched.calls().filter((call) => /dawn|supersaturated/.test(call));
    expect(calls).toEqual([]);
    expect(watched.finding('above-limit')?.priority ?? 'low').toBe('low');
  });

  test('gas that stays high through the night is told apart from algae', () => {
    const watched = watch(sat);
    watched.lives(18 * 60, { 'l1.oxygen-saturation': 113 });
    expect(watched.holds()).toContain('supersaturated l1.oxygen-saturation');
  });
});
