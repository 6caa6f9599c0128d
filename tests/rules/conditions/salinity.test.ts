import { describe, expect, test } from 'vitest';
import type { Place } from '../../../rules/place.js';
import { larvae, NIGHT_MS, site, WATER, watch } from '../../support/watch.js';

const S = 'l1.salinity';
const line: Place = { id: 'north', kind: 'line', name: 'North', order: 9 };
const still = (more: Partial<Place> = {}) => site([larvae('l1', more)], { l1: { probes: WATER } });
const flowing = () =>
  site(
    [
      line,
      larvae('l1', { lineId: 'north', regime: 'flow-through' }),
      larvae('l2', { lineId: 'north', regime: 'flow-through' }),
    ],
    { north: { probes: ['salinity'] }, l1: { probes: WATER }, l2: { probes: WATER } },
  );
const shifts = (watched: ReturnType<typeof watch>) =>
  watched.holds().filter((held) => held.startsWith('salinity-shift'));

describe('salinity on the move', () => {
  test('that creeps up in a still tank looks like evaporation: for the morning, with litres only after a hand', () => {
    const watched = watch(still());
    watched.lives(10 * 60, { [S]: (minute) => 32.6 + minute / 900 });
    expect(watched.finding('salinity-shift')).toMatchObject({ priority: 'low', evidence: ['looks-like-evaporation'] });
    expect(watched.finding('salinity-shift')?.remedy).toBeUndefined();
    watched.tell({ kind: 'hand', atMs: watched.now(), placeId: 'l1', quantity: 'salinity', value: 33.4 });
    const remedy = watched.finding('salinity-shift')?.remedy;
    // Salt balance: 500 L × 1.023 kg/L × 0.4 / 33 = 6.2 kg of fresh water.
    expect(remedy?.litres).toBeCloseTo(6.2, 1);
    expect(remedy?.overHours).toBeGreaterThan(0);
    watched.lives(40, { [S]: 33.3 });
    expect(watched.finding('salinity-shift')?.remedy).toBeUndefined();
  });

  test('that falls in the header and its tanks looks like rain', () => {
    const watched = watch(flowing());
    watched.lives(120);
    const rain = (minute: number) => 31 - 0.09 * minute;
    watched.lives(20, { 'north.salinity': rain, [S]: rain, 'l2.salinity': rain });
    expect(watched.finding('salinity-shift', S)?.evidence).toContain('looks-like-rain');
    expect(watched.finding('salinity-shift', S)?.checks).toContain('close-intake');
  });

  test('that falls fast in one tank, and the temperature with it, looks like fresh water running in: it may wake', () => {
    const watched = watch(still());
    watched.lives(120);
    watched.lives(10, { [S]: (m) => 31 - 0.3 * m, 'l1.temperature': (m) => 24 - 0.1 * m });
    expect(watched.finding('salinity-shift')).toMatchObject({
      priority: 'medium',
      evidence: expect.arrayContaining(['looks-like-fresh-water']),
    });
  });

  test('that jumps at once while nothing else notices looks like a bubble in the cell: for the morning', () => {
    const watched = watch(still());
    watched.lives(120);
    watched.lives(8, { [S]: 27.5 });
    expect(watched.finding('salinity-shift')).toMatchObject({
      priority: 'low',
      evidence: expect.arrayContaining(['looks-like-probe']),
    });
  });

  test('that jumps back when the bubble goes wakes nobody either', () => {
    const watched = watch(still());
    watched.lives(120);
    watched.lives(50, { [S]: 26.5 });
    watched.lives(30);
    expect(
      watched.effects().flatMap((effect) => (effect.do === 'alarm' ? [effect.alarm.finding.priority] : [])),
    ).not.toContain('medium');
  });

  test('is not a top-up: a small step down that stays inside the target', () => {
    const watched = watch(still());
    watched.lives(120, { [S]: 32.2 });
    watched.lives(60, { [S]: 31 });
    expect(shifts(watched)).toEqual([]);
  });

  test('is not a tide: as it was a tide before', () => {
    const watched = watch(flowing());
    const tide = (minute: number) => 30.5 + 1.2 * Math.sin((2 * Math.PI * minute) / (12.42 * 60));
    watched.lives(26 * 60, { 'north.salinity': tide, [S]: tide, 'l2.salinity': tide });
    const before = watched.calls().length;
    watched.lives(12 * 60, {
      'north.salinity': (m) => tide(m + 26 * 60),
      [S]: (m) => tide(m + 26 * 60),
      'l2.salinity': (m) => tide(m + 26 * 60),
    });
    expect(watched.calls().slice(before)).toEqual([]);
  });

  test('is not a thermometer that jumps: the conductivity stood still', () => {
    const settings = site([larvae('l1')], { l1: { probes: ['temperature', 'conductivity', 'oxygen-mg-l'] } });
    const watched = watch(settings);
    watched.lives(60, { 'l1.conductivity': 47.3 });
    watched.lives(15, { 'l1.conductivity': 47.3, 'l1.temperature': 29 });
    expect(shifts(watched)).toEqual([]);
  });
});

describe('a salinity limit passed', () => {
  const slowly = (minute: number) => 26.4 - minute / 400;

  test('slowly at night is for the morning', () => {
    const watched = watch(still());
    watched.lives(5 * 60, { [S]: slowly });
    expect(watched.finding('below-limit', S)?.priority).toBe('low');
  });

  test('slowly by day is told at once', () => {
    const noonMs = NIGHT_MS + 14 * 3_600_000;
    const watched = watch(still(), noonMs);
    watched.lives(5 * 60, { [S]: slowly });
    expect(watched.finding('below-limit', S)?.priority).toBe('medium');
  });

  test('by a cell that jumps alone is for the morning', () => {
    const watched = watch(still());
    watched.lives(60);
    watched.lives(8, { [S]: 24.5 });
    expect(watched.finding('below-limit', S)?.priority).toBe('low');
  });

  test('within minutes wakes at night too', () => {
    const watched = watch(still());
    watched.lives(60);
    watched.lives(14, { [S]: (m) => 31 - 0.5 * m, 'l1.temperature': (m) => 24 - 0.1 * m });
    expect(watched.finding('below-limit', S)?.priority).toBe('medium');
  });
});
