import { describe, expect, test } from 'vitest';
import type { Entry } from '../../../rules/log/entry.js';
import { plannedC, runNow, type SpawningRun, spawningRun } from '../../../rules/log/run.js';
import { phasesInTrace, type TrayTrace } from '../../../rules/log/trace-phase.js';
import { NOON_MS } from '../../support/hatchery.js';
import { diary } from './diary.js';

const MINUTE = 60_000;
const PLAN = {
  animals: 40,
  ambientC: 21,
  coolC: 16,
  riseC: 5.6,
  holdMin: 30,
  cycles: 2,
  ceilingC: 30,
  latestEndMs: NOON_MS + 240 * MINUTE,
};

const planned = () => {
  const { entries, write } = diary();
  const { id: runId } = write('run-plan', 's1', PLAN);
  const at = (minute: number) => ({ atMs: NOON_MS + minute * MINUTE });
  return { entries, write, runId, at };
};
const runOf = (id: string, entries: readonly Entry[]): SpawningRun => {
  const run = spawningRun(id, entries);
  if (run === undefined) throw new Error('no run');
  return run;
};

describe('a spawning run', () => {
  test('has each phase until the next begins, and its hold counted down', () => {
    const { entries, write, runId, at } = planned();
    write('run-phase', undefined, { runId, phase: 'warm' }, at(10));
    write('run-phase', undefined, { runId, phase: 'cool' }, at(45));
    const run = runOf(runId, entries);
    expect(run.phases).toMatchObject([{ phase: 'warm', toMs: NOON_MS + 45 * MINUTE }, { phase: 'cool' }]);
    expect(runNow(run, NOON_MS + 65 * MINUTE, {})).toMatchObject({ leftMin: 10, cyclesDone: 1, calls: [] });
    expect(plannedC(run, 'warm')).toBeCloseTo(26.6);
  });

  test('calls out a hold that is 15 min over, a latest end that has passed, and nobody there for 30 min', () => {
    const { entries, write, runId, at } = planned();
    write('run-phase', undefined, { runId, phase: 'warm' }, at(10));
    const run = runOf(runId, entries);
    expect(runNow(run, NOON_MS + 55 * MINUTE, {}).calls).toEqual(['nobody-there']);
    expect(runNow(run, NOON_MS + 56 * MINUTE, {}).calls).toEqual(['hold-too-long', 'nobody-there']);
    expect(runNow(run, NOON_MS + 240 * MINUTE, {}).calls).toContain('past-latest-end');
  });

  test('says when the tray reaches the ceiling at the present ramp, ten minutes before', () => {
    const { entries, write, runId, at } = planned();
    write('run-phase', undefined, { runId, phase: 'warm' }, at(10));
    const run = runOf(runId, entries);
    expect(runNow(run, NOON_MS + 20 * MINUTE, { temperatureC: 28, rampCMin: 0.25 })).toMatchObject({
      ceilingInMin: 8,
      calls: ['ceiling-near'],
    });
    expect(runNow(run, NOON_MS + 20 * MINUTE, { temperatureC: 26.6, rampCMin: -0.1 }).ceilingInMin).toBeUndefined();
  });

  test('knows who was there, who spawned and what was counted', () => {
    const { entries, write, runId, at } = planned();
    write('run-spawner', undefined, { runId, animal: '7', sex: 'male' }, { ...at(25), by: 'Tomas' });
    write(
      'run-eggs',
      undefined,
      { runId, count: { animals: 12_000_000, low: 11_000_000, high: 13_000_000 }, to: 'e1' },
      at(60),
    );
    write('run-end', undefined, { runId, why: 'enough-spawned' }, at(70));
    const run = runOf(runId, entries);
    expect(run.people).toEqual(['Ines', 'Tomas']);
    expect(run.eggs.map(({ tally }) => tally?.animals)).toEqual([12_000_000]);
    expect(runNow(run, NOON_MS + 400 * MINUTE, {}).calls).toEqual([]);
  });
});

describe('phases in the trace', () => {
  const trace = (parts: readonly (readonly [minutes: number, temperatureC: number | null])[]): TrayTrace => {
    const points: { atMs: number; temperatureC: number | null }[] = [];
    for (const [minutes, temperatureC] of parts) {
      for (let n = 0; n < minutes * 2; n += 1) points.push({ atMs: NOON_MS + points.length * 30_000, temperatureC });
    }
    return points;
  };

  test('are seen where the water stays beyond half the step for two minutes', () => {
    const seen = phasesInTrace(
      trace([
        [5, 21],
        [4, 23],
        [30, 26.6],
        [30, 16],
        [30, 26.4],
      ]),
      PLAN,
    );
    expect(seen.map(({ phase }) => phase)).toEqual(['ambient', 'warm', 'cool', 'warm']);
    expect(seen[1]).toMatchObject({ fromMs: NOON_MS + 9 * MINUTE, reachedC: 26.6 });
  });

  test('are not made by a minute of hot water at the probe, nor by the air at a swap', () => {
    const seen = phasesInTrace(
      trace([
        [5, 21],
        [1, 29],
        [5, 21],
        [20, 26.6],
        [6, null],
        [20, 26.5],
      ]),
      PLAN,
    );
    expect(seen.map(({ phase }) => phase)).toEqual(['ambient', 'warm']);
  });
});
