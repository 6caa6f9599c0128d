import type { Mapping } from '../../rules/hatchery.js';
import type { Entry } from '../../rules/log/entry.js';
import { begun, diary } from '../rules/log/diary.js';
import { tank } from './hatchery.js';

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
const EVERY_MS = 10 * MINUTE;
const QUANTITIES = ['temperature', 'salinity', 'oxygen-mg-l'] as const;
const UNITS = { temperature: 'degC', salinity: 'psu', 'oxygen-mg-l': 'mg/L' } as const;
const WANTS = {
  temperature: { targetLow: 22.5, targetHigh: 25.5, limitLow: 20.5, limitHigh: 27.5, ceilingHigh: 32.5 },
};

const tanks = [
  tank('l1', { stage: 'empty', wants: WANTS, bed: { kind: 'sand', depthM: 0.125, limitDepthMm: 2.5 }, volumeL: 212.5 }),
  tank('l2', { stage: 'empty', order: 1 }),
  tank('t1', { stage: 'empty', order: 2, volumeL: 62.5 }),
];

const mappings = tanks.flatMap(({ id }, at): readonly Mapping[] =>
  QUANTITIES.map((quantity, n) => ({
    ...{ sourceId: at * 10 + n + 1, channelId: `${id}.${quantity}`, unit: UNITS[quantity] },
    ...{ fromMs: 0, ruling: true, periodMs: EVERY_MS },
  })),
);

/** Never quite still. L1 climbs out of its limit in the last four hours. */
const valueAt = (channelId: string, atMs: number, nowMs: number): number => {
  const wobble = ((atMs / EVERY_MS) % 7) * 0.01;
  if (channelId.endsWith('.salinity')) return 29.2 + wobble;
  if (channelId.endsWith('.oxygen-mg-l')) return 6.7 + wobble;
  const climb = channelId.startsWith('l1') ? Math.max(0, 4 - (nowMs - atMs) / HOUR) : 0;
  return (channelId.startsWith('t1') ? 21 : 24) + climb + wobble;
};

/** Three tanks whose figures all have a decimal, and a day and a half of their readings. */
export const UNITED = { tanks, mappings, valueAt } as const;

/** An entry of every kind whose words hold a temperature, a time or a number that is not whole. */
export const unitsDiary = (startMs: number, nowMs: number): readonly Entry[] => {
  const { write, entries } = diary(startMs);
  write('brought-in', 'l1', begun('B-1', 1_250_000));
  write('brought-in', 'l2', begun('C-1', 80_000));
  write('brought-in', 't1', { ...begun('A-1', 40), stage: 'ripe' });
  write('feeding', 'l2', { alga: 'Pav', volumeL: 1.25, residualCellsMl: 12_000 });
  write('water-change', 'l2', { sharePct: 12.5, temperatureC: 24.4, salinity: 29.5 });
  write('hand-measurement', 'l2', { quantity: 'temperature', value: 24.25, instrument: 'glass thermometer' });
  write('calibration', 'l2', { quantity: 'temperature', against: 'glass thermometer', before: 24.7, after: 24.2 });
  write('disinfection', 't1', { product: 'chlorine', doseMgL: 2.5 });
  write('residual-test', 't1', { foundMgL: 0, rinsed: true });
  write('culture', undefined, { culture: 'Pav 3', event: 'counted', cellsMl: 6_500_000.5, volumeL: 19.5 });
  write('filter', undefined, { what: 'intake', micron: 0.5 });
  write('uv-hours', undefined, { lamp: 'east', hours: 1203.5 });
  write('count', 'l2', { count: { counts: [69, 68, 72], subsampleMl: 0.25, totalL: 62.5 } });
  write('round', undefined, { which: 'evening', except: [] });
  write('drain-down', 'l2', {
    screensUm: [100, 150],
    count: { counts: [69, 68, 70], subsampleMl: 0.25, totalL: 62.5 },
    lengthsUm: [151.5, 160.5],
    fedL: 1.5,
    end: 'back-in',
  });
  const beganMs = nowMs - 2 * HOUR;
  const plan = {
    ...{ batchId: 'A-1', animals: 40, ambientC: 20, coolC: 20, riseC: 10, holdMin: 37.5, cycles: 3, ceilingC: 30.5 },
    ...{ latestEndMs: nowMs + 3 * HOUR, hotSupplyC: 45, conditioningDays: 41.5 },
  };
  const { id: runId } = write('run-plan', 't1', plan, { atMs: beganMs });
  write('run-phase', 't1', { runId, phase: 'warm', reachedC: 29.5 }, { atMs: beganMs + 20 * MINUTE });
  write('run-phase', 't1', { runId, phase: 'cool', reachedC: 20.25 }, { atMs: beganMs + 60 * MINUTE });
  write('run-spawner', 't1', { runId, animal: '7', sex: 'female' }, { atMs: beganMs + 70 * MINUTE });
  write(
    'run-eggs',
    't1',
    { runId, count: { animals: 7_680_000 }, fertilisedPct: 92.5 },
    { atMs: beganMs + 80 * MINUTE },
  );
  write('deaths', 'l1', { animals: 1_150_000, signs: 'on the bottom' }, { atMs: nowMs - HOUR });
  write('work', 'l2', { work: 'feeding-flow-off', minutes: 22.5 }, { atMs: nowMs - 10 * MINUTE });
  return entries;
};
