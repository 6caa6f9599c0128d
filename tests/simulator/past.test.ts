import { describe, expect, it } from 'vitest';
import type { HatcheryState } from '../../simulator/hatchery.js';
import { livePast, type PastReading } from '../../simulator/past.js';
import { demoPast } from '../../simulator/world/demo-past.js';
import { saltmarshLane } from '../../simulator/world/saltmarsh-lane.js';

const NOW = Date.UTC(2026, 5, 17, 5);
const HOUR_MS = 3_600_000;
const DAY_MS = 24 * HOUR_MS;

const lived = (fromMs: number, toMs: number): { readings: readonly PastReading[]; end: HatcheryState } => {
  const hatchery = saltmarshLane(7);
  const past = livePast(hatchery, { fromMs, toMs, everyS: 60 }, demoPast(hatchery, NOW));
  const readings: PastReading[] = [];
  let portion = past.next();
  while (!portion.done) {
    readings.push(...portion.value);
    portion = past.next();
  }
  return { readings, end: portion.value };
};

const of = (readings: readonly PastReading[], place: string, quantity: string): readonly PastReading[] =>
  readings.filter((reading) => reading.place === place && reading.quantity === quantity);

describe('the past of the demo', () => {
  const { readings, end } = lived(NOW - 6 * DAY_MS, NOW);

  it('has a reading a minute of every channel, in order, and every one a number', () => {
    expect(readings.every(({ value }) => Number.isFinite(value))).toBe(true);
    const channel = of(readings, 'B1', 'temperature');
    expect(channel.length).toBe(6 * 1440 + 1);
    expect(channel.every(({ atMs }, i) => i === 0 || atMs - (channel[i - 1]?.atMs ?? 0) === 60_000)).toBe(true);
  });

  it('ends where the live hatchery begins', () => {
    expect(end.atMs).toBe(NOW);
    expect(end.water.L2?.volumeL).toBeGreaterThan(59);
    expect(Object.values(end.board).every(({ link, nextAtMs }) => link === 'down' && nextAtMs === 0)).toBe(true);
  });

  it('shows the larval tanks taken down every second day', () => {
    const dry = of(readings, 'L3', 'conductivity').filter(({ value }) => value < 1);
    const minutes = (day: number): number => dry.filter(({ atMs }) => Math.floor(atMs / DAY_MS) === day).length;
    const days = [...new Set(dry.map(({ atMs }) => Math.floor(atMs / DAY_MS)))];
    // A probe's weekly service takes nine minutes and is not a drain-down.
    const drained = days.filter((day) => minutes(day) > 15);
    expect(drained).toHaveLength(3);
    expect(drained.every((day, i) => i === 0 || day - (drained[i - 1] ?? day) === 2)).toBe(true);
  });

  it('shows half an hour without air five nights ago', () => {
    const off = of(readings, 'air-b', 'contact').filter(({ value }) => value === 0);
    expect(off).toHaveLength(35);
    expect(NOW - (off[0]?.atMs ?? 0)).toBeLessThan(6 * DAY_MS);
    expect(of(readings, 'air-a', 'contact').every(({ value }) => value === 1)).toBe(true);
  });

  it('shows forty minutes of one board missing two days ago, and of no other', () => {
    const longest = (place: string): number => {
      const times = of(readings, place, 'temperature').map(({ atMs }) => atMs);
      return Math.max(...times.slice(1).map((atMs, i) => atMs - (times[i] ?? atMs)));
    };
    expect(longest('S4')).toBe(41 * 60_000);
    expect(longest('U1')).toBe(41 * 60_000);
    expect(longest('S2')).toBe(60_000);
  });

  it('lets the tide be seen in the creek water', () => {
    const salinity = of(readings, 'seed-header', 'salinity')
      .slice(-1440)
      .map(({ value }) => value);
    expect(Math.max(...salinity) - Math.min(...salinity)).toBeGreaterThan(0.5);
  });

  it('is the same past when it is told in another portion', () => {
    const again = lived(NOW - 6 * DAY_MS, NOW - 5 * DAY_MS).readings;
    expect(again).toEqual(readings.slice(0, again.length));
  });
});
