import { execFile } from 'node:child_process';
import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { beforeAll, describe, expect, it } from 'vitest';
import { judgeNight } from '../../../simulator/nights/judge.js';
import { nightSeed, REPORTED_SEED, TUNING_SEEDS } from '../../../simulator/nights/pool.js';
import type { Score, WatchScore } from '../../../simulator/nights/score.js';
import { USAGE, wishFrom } from '../../../simulator/nights/wish.js';

/** Workers run compiled files only: `npm test` compiles first. */
const PROGRAM = fileURLToPath(new URL('../../../dist/simulator/nights.js', import.meta.url));
const NIGHTS = 100;

const nights = async (...args: readonly string[]): Promise<Score> => {
  const { stdout } = await promisify(execFile)(process.execPath, [PROGRAM, ...args, '--json']);
  return JSON.parse(stdout) as Score;
};

describe('the short form of the nights', () => {
  let score: Score;
  beforeAll(async () => {
    if (!existsSync(PROGRAM)) throw new Error('dist/ is missing: npm run build');
    score = await nights('--nights', String(NIGHTS), '--seed', String(REPORTED_SEED));
    const { byFailure: _, baseline, carefulBaseline, ...engine } = score;
    const without = ({ byFailure: __, ...figures }: WatchScore) => figures;
    const beside = { baseline: without(baseline), carefulBaseline: without(carefulBaseline) };
    process.stdout.write(`\n${JSON.stringify({ ...engine, ...beside }, null, 2)}\n`);
  }, 600_000);

  it('prints its figures under the agreed names, for every watch', () => {
    const names = ['harmsMissed', 'leadMinutes', 'wakingsWithoutCausePer100TankNights', 'alarmsPerTankDay'];
    const all = [...names, 'forecastErrorMinutes', 'byFailure'];
    const bounds = ['strayHarms', 'mostLeadMinutes', 'shownLeadMinutes'];
    expect(Object.keys(score)).toEqual(['nights', 'failures', ...bounds, ...all, 'baseline', 'carefulBaseline']);
    expect(Object.keys(score.baseline)).toEqual(all);
    expect(score.nights).toBe(NIGHTS);
  });

  it('sorts every failure into one drawer, the same ones for every watch', () => {
    const shown = ({ byFailure }: WatchScore) =>
      Object.values(byFailure).map(({ inTime, late, missed }) => inTime + late + missed);
    for (const watch of [score, score.baseline, score.carefulBaseline]) {
      const kinds = Object.values(watch.byFailure);
      expect(kinds.reduce((sum, kind) => sum + kind.nights, 0)).toBe(score.failures);
      for (const kind of kinds) {
        expect(kind.harmless + kind.inTime + kind.late + kind.missed + kind.notShowable).toBe(kind.nights);
      }
      expect(kinds.reduce((sum, { missed }) => sum + missed, 0)).toBe(watch.harmsMissed);
    }
    expect(shown(score)).toEqual(shown(score.baseline));
    expect(shown(score)).toEqual(shown(score.carefulBaseline));
  });

  it('judges a night alike whatever is judged before it', () => {
    const seed = nightSeed(1002, 3);
    const { seconds: _, ...once } = judgeNight(seed);
    judgeNight(nightSeed(1002, 4));
    const { seconds: __, ...again } = judgeNight(seed);
    expect(again).toEqual(once);
  });

  it('hurts no animal where nothing failed', () => {
    expect(score.strayHarms).toBe(0);
  });

  it('misses no harm that the probes could have shown, and wakes for nothing less often than fixed limits do', () => {
    expect(score.harmsMissed).toBe(0);
    expect(score.wakingsWithoutCausePer100TankNights).toBeLessThan(score.baseline.wakingsWithoutCausePer100TankNights);
  });
});

describe('asking for nights', () => {
  it('reports from a seed that nobody tunes on', () => {
    expect(TUNING_SEEDS).not.toContain(REPORTED_SEED);
    const [mine, yours] = [nightSeed(1, 0), nightSeed(1, 1)].map((seed) => seed);
    expect(mine).not.toBe(yours);
  });

  it('takes a number of nights, a seed and json, and says what is wrong with anything else', () => {
    expect(wishFrom(['--nights', '2000', '--seed', '1', '--json'])).toEqual({ nights: 2000, seed: 1, json: true });
    expect(wishFrom([])).toMatchObject({ seed: REPORTED_SEED, json: false });
    expect(wishFrom(['--help'])).toBeUndefined();
    expect(wishFrom(['--nights', '0'])).toMatch(/--nights takes a whole number/);
    expect(wishFrom(['--seed', 'x'])).toMatch(/--seed takes a whole number/);
    expect(wishFrom(['--night', '3'])).toMatch(/night/);
    expect(USAGE).toContain('--nights');
  });
});
