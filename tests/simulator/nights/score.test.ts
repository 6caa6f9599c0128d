import { describe, expect, it } from 'vitest';
import type { FailureScore, NightScore, SideScore } from '../../../simulator/nights/judge.js';
import { leadOf, quantileOf, scoreOf, verdictOf } from '../../../simulator/nights/score.js';
import { tableOf } from '../../../simulator/nights/table.js';

const START = Date.UTC(2026, 4, 4, 20);
const at = (minute: number): number => START + minute * 60_000;

const quiet: SideScore = { wakings: 0, needless: [], alarms: 0, forecastErrors: [] };
const called = (minute: number): SideScore => ({
  ...quiet,
  wakings: 1,
  alarms: 1,
  calledMs: at(minute),
  calledBy: 'too-fast',
});

/** Begun at 60 minutes, shown at 80, harm at 200. */
const stuck: FailureScore = {
  kind: 'heater-stuck',
  fromMs: at(60),
  places: ['l1'],
  harm: { atMs: at(200), by: 'heat', tank: 'l1' },
  shownMs: at(80),
};
const { shownMs: _, ...unseen } = stuck;
const { harm: __, ...harmless } = unseen;

const night = (engine: SideScore, baseline: SideScore, failure?: FailureScore): NightScore => ({
  seed: 1,
  strayHarms: 0,
  engine,
  baseline,
  carefulBaseline: baseline,
  seconds: { physics: 0, engine: 0, baseline: 0 },
  ...(failure === undefined ? {} : { failure }),
});

describe('the verdict on one failure', () => {
  it('is in time up to fifteen minutes before harm, late after that, and missed from harm on', () => {
    expect(verdictOf(stuck, called(100))).toBe('in-time');
    expect(verdictOf(stuck, called(185))).toBe('in-time');
    expect(verdictOf(stuck, called(186))).toBe('late');
    expect(verdictOf(stuck, called(200))).toBe('missed');
    expect(verdictOf(stuck, called(300))).toBe('missed');
    expect(verdictOf(stuck, quiet)).toBe('missed');
  });

  it('is neither when no probe could show it or nobody was hurt', () => {
    expect(verdictOf(unseen, quiet)).toBe('not-showable');
    expect(verdictOf(harmless, quiet)).toBe('harmless');
    expect(verdictOf(harmless, called(90))).toBe('harmless');
  });

  it('gives the minutes that were left, and none for a miss', () => {
    expect(leadOf(stuck, called(100))).toBe(100);
    expect(leadOf(stuck, called(250))).toBe(0);
    expect(leadOf(stuck, quiet)).toBe(0);
  });
});

describe('the figures of many nights', () => {
  const needless = { atMs: at(300), codes: ['silent'], place: 'l2' };
  const nights = [
    night(called(100), called(190), stuck),
    night(quiet, quiet, stuck),
    night(quiet, called(150), unseen),
    night({ ...quiet, wakings: 1, alarms: 2, needless: [needless], forecastErrors: [4, 10] }, quiet),
  ];
  const score = scoreOf(nights);

  it('count failures, misses, lead, wakings without cause and alarms as one would by hand', () => {
    expect(score).toMatchObject({ nights: 4, failures: 3, harmsMissed: 1 });
    // Leads of the two that could be shown: 100 and 0.
    expect(score.leadMinutes).toEqual({ median: 0, p5: 0 });
    // Both began at 60 and were shown at 80, and the harm came at 200.
    expect(score.mostLeadMinutes).toEqual({ median: 140, p5: 140 });
    expect(score.shownLeadMinutes).toEqual({ median: 120, p5: 120 });
    // One in 4 nights of 12 tanks.
    expect(score.wakingsWithoutCausePer100TankNights).toBeCloseTo(100 / 48, 2);
    // Three alarms in 48 tank-nights of ten hours.
    expect(score.alarmsPerTankDay).toBeCloseTo((3 * 2.4) / 48, 2);
    expect(score.forecastErrorMinutes).toEqual({ median: 4, p90: 10 });
    expect(score.baseline).toMatchObject({ harmsMissed: 1, wakingsWithoutCausePer100TankNights: 0 });
    expect(score.baseline.forecastErrorMinutes).toEqual({ median: null, p90: null });
  });

  it('sort every failure of a kind into exactly one drawer', () => {
    expect(score.byFailure['heater-stuck']).toEqual({
      nights: 3,
      harmless: 0,
      inTime: 1,
      late: 0,
      missed: 1,
      notShowable: 1,
      medianLeadMinutes: 0,
      called: 1,
    });
    expect(score.baseline.byFailure['heater-stuck']).toMatchObject({ inTime: 0, late: 1, missed: 1, notShowable: 1 });
  });

  it('name each miss, and what woke people for nothing', () => {
    const table = tableOf(score, nights);
    expect(table).toMatch(/missed heater-stuck\s+21:00, shown 21:20, never called, harm 23:20 \(heat in l1\)/);
    expect(table).toMatch(/1 {2}silent/);
  });

  it('take the nearest rank, and nothing of nothing', () => {
    expect(quantileOf([3, 1, 2], 0.5)).toBe(2);
    expect(quantileOf([5], 0.05)).toBe(5);
    expect(quantileOf([], 0.5)).toBeNull();
  });
});
